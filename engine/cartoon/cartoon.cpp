#include "engine/cartoon/cartoon.h"

#include <algorithm>

#include "engine/cartoon/day_sheet.h"
#include "engine/cartoon/giornata_sheets.h"
#include "engine/cartoon/key_plan.h"
#include "engine/cartoon/output_set.h"
#include "engine/cartoon/pattern_stream.h"
#include "engine/cartoon/selected_pages.h"
#include "engine/cartoon/sheet_files.h"

namespace pontata {
namespace {

const Problem kStopped{"stopped", "", ""};

CartoonReport::Row row_of(const PrintJob& job, const std::vector<Pattern>& patterns) {
  CartoonReport::Row row;
  row.id = job.giornata->id, row.number = job.giornata->number, row.part = job.giornata->part;
  for (const Pattern& p : patterns) {
    row.max_strain = std::max(row.max_strain, p.flat.max_strain);
    row.misfit_mm = std::max(row.misfit_mm, p.flat.misfit_mm);
    row.relief_cuts += static_cast<int>(p.cuts.size());
    if (p.flat.least_strain) row.least_strain = std::max(row.least_strain.value_or(0), *p.flat.least_strain);
  }
  return row;
}

// The sheets of all giornate in working order: each is laid flat, drawn and dropped.
class SheetWriter {
 public:
  SheetWriter(const CartoonInput& input, const CartoonOptions& options, const std::vector<PrintJob>& jobs,
              SheetFiles& files)
      : options_(options), jobs_(jobs), files_(files), stream_(jobs), sheets_(input, options) {}

  Outcome write(CartoonReport& out, Progress* progress) {
    for (const PrintJob& job : jobs_) {
      if (const Outcome done = write(job, out, progress); !done) return done.problem();
    }
    for (auto& row : out.giornate) row.seam_mismatch_mm = stream_.mismatch(row.id);
    return files_.finish();
  }

 private:
  Outcome write(const PrintJob& job, CartoonReport& out, Progress* progress) {
    const double each = 0.9 / static_cast<double>(jobs_.size()), done = each * static_cast<double>(out.giornate.size());
    report(progress, done, "laying the giornate flat");
    if (is_cancelled(progress)) return kStopped;
    const auto patterns = stream_.make(job, progress);
    if (!patterns) return patterns.problem();
    report(progress, done + 0.6 * each, "drawing the sheets");
    if (is_cancelled(progress)) return kStopped;
    const auto pages = files_.begin("giornata-" + label_of(*job.giornata));
    if (!pages) return pages.problem();
    SelectedPages counted = SelectedPages::all(**pages);
    if (const Outcome drawn = sheets_.draw(*patterns, counted, progress); !drawn) return drawn.problem();
    CartoonReport::Row row = row_of(job, *patterns);
    row.sheets = counted.tally().pages, row.paper_m2 = counted.tally().paper_m2;
    if (options_.paper.roll) row.roll_m = counted.tally().length_m;
    out.sheets += row.sheets, out.paper_m2 += row.paper_m2, out.roll_m += row.roll_m;
    out.giornate.push_back(row);
    return Done{};
  }

  const CartoonOptions& options_;
  const std::vector<PrintJob>& jobs_;
  SheetFiles& files_;
  PatternStream stream_;
  GiornataSheets sheets_;
};

Outcome write_plans(const CartoonInput& input, OutputSet& set, Progress* progress) {
  report(progress, 0.92, "drawing the key plan and the day sheets");
  if (const Outcome made = write_key_plan(input, set.add("key-plan.pdf"), progress); !made) return made.problem();
  if (is_cancelled(progress)) return kStopped;
  if (const Outcome made = write_key_plan_png(input, set.add("key-plan.png")); !made) return made.problem();
  if (is_cancelled(progress)) return kStopped;
  return write_day_sheets(input, set.add("day-sheets.pdf"), progress);
}

}  // namespace

Result<CartoonReport> write_cartoon(const CartoonInput& input, const std::string& out, const CartoonOptions& options,
                                    Progress* progress) {
  const std::vector<PrintJob> jobs = working_order(input);
  if (const Outcome can = check_print(jobs, input, options); !can) return can.problem();
  auto set = OutputSet::open(out, options.may_write);
  if (!set) return set.problem();
  auto files = SheetFiles::open(options.format, *set, "cartoon.pdf", "Cartoon · " + input.project);
  if (!files) return files.problem();
  CartoonReport result;
  if (const Outcome made = SheetWriter(input, options, jobs, *files).write(result, progress); !made)
    return made.problem();
  if (const Outcome made = write_plans(input, *set, progress); !made) return made.problem();
  if (is_cancelled(progress)) return kStopped;
  auto written = set->commit();
  if (!written) return written.problem();
  result.files = std::move(*written);
  report(progress, 1, "done");
  return result;
}

}  // namespace pontata
