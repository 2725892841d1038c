#include "engine/cartoon/sheet_preview.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/cartoon/selected_pages.h"
#include "engine/cartoon/working_order.h"

namespace pontata {

namespace {

const Problem kStopped{"stopped", "", ""};

Result<PlannedSheets> plan_of(const CartoonOptions& options, const PrintJob& job, WallPlans& plans,
                              GiornataSheets& sheets, Progress* progress) {
  const auto patterns = make_patterns(*job.wall, *job.giornata, progress, &plans);
  if (!patterns) return patterns.problem();
  PlannedSheets row{job.giornata->id, job.giornata->number, job.giornata->part};
  SelectedPages pages = SelectedPages::none();
  if (const Outcome drawn = sheets.draw(*patterns, pages, progress); !drawn) return drawn.problem();
  for (const Pattern& p : *patterns) row.tilings.push_back(tiling_for(p, options).value());
  row.sheets = pages.tally().pages, row.paper_m2 = pages.tally().paper_m2;
  if (options.paper.roll) row.roll_m = pages.tally().length_m;
  return row;
}

}  // namespace

Result<SheetPlan> plan_sheets(const CartoonInput& input, const CartoonOptions& options, Progress* progress) {
  const std::vector<PrintJob> jobs = working_order(input);
  if (const Outcome can = check_print(jobs, input, options); !can) return can.problem();
  GiornataSheets sheets(input, options);
  std::map<const CartoonWall*, WallPlans> plans;
  SheetPlan out;
  for (const PrintJob& job : jobs) {
    report(progress, static_cast<double>(out.giornate.size()) / static_cast<double>(jobs.size()),
           "laying the giornate flat");
    if (is_cancelled(progress)) return kStopped;
    auto row = plan_of(options, job, plans.try_emplace(job.wall, *job.wall, options.relief_mm).first->second, sheets,
                       progress);
    if (!row) return row.problem();
    out.sheets += row->sheets, out.paper_m2 += row->paper_m2, out.roll_m += row->roll_m;
    out.giornate.push_back(std::move(*row));
  }
  return out;
}

Result<SheetPreview> SheetPreview::make(const CartoonInput& input, const CartoonOptions& options, GiornataId id,
                                        Progress* progress) {
  SheetPreview out(input, options);
  out.options_->format = CartoonFormat::pdf;  // what is seen is paper
  for (const CartoonWall& wall : input.walls)
    for (const CartoonGiornata& g : wall.giornate) {
      if (g.id != id) continue;
      auto patterns = make_patterns(wall, g, progress, nullptr, options.relief_mm);
      if (!patterns) return patterns.problem();
      out.patterns_ = std::move(*patterns);
    }
  if (out.patterns_.empty()) return Problem{"there is no such giornata", input.project, ""};
  SelectedPages pages = SelectedPages::none();
  if (const Outcome drawn = GiornataSheets(input, *out.options_).draw(out.patterns_, pages, progress); !drawn)
    return drawn.problem();
  out.sheets_ = pages.tally().pages;
  return out;
}

Result<Image> SheetPreview::sheet(int index, double dpi, Progress* progress) {
  if (index < 0 || index >= sheets_) return Problem{"there is no such sheet", "", ""};
  const int dots = std::clamp(static_cast<int>(std::lround(dpi)), 10, 1200);
  if (!drawn_ || options_->picture_dpi != dots) {
    options_->picture_dpi = dots;
    drawn_ = std::make_unique<GiornataSheets>(*input_, *options_);
  }
  auto image = PdfPages::create_image(dpi);
  if (!image) return image.problem();
  SelectedPages pages = SelectedPages::only(*image, index);
  if (const Outcome drawn = drawn_->draw(patterns_, pages, progress); !drawn) return drawn.problem();
  return image->image();
}

}  // namespace pontata
