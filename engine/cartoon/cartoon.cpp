#include "engine/cartoon/cartoon.h"

#include <algorithm>

#include "engine/cartoon/book.h"
#include "engine/cartoon/copies.h"
#include "engine/cartoon/day_sheet.h"
#include "engine/cartoon/giornata_sheets.h"
#include "engine/cartoon/key_plan.h"
#include "engine/cartoon/output_set.h"
#include "engine/cartoon/pattern_stream.h"
#include "engine/cartoon/selected_pages.h"

namespace pontata {
namespace {

const Problem kStopped{"stopped", "", ""};

CartoonReport::Row row_of(const PrintJob& job, const std::vector<Pattern>& patterns) {
  CartoonReport::Row row;
  row.id = job.giornata->id, row.number = job.giornata->number, row.part = job.giornata->part;
  for (const Pattern& p : patterns) {
    row.max_strain = std::max(row.max_strain, p.flat.max_strain);
    row.misfit_mm = std::max(row.misfit_mm, p.flat.misfit_mm);
    row.worst_line_mm = std::max(row.worst_line_mm, p.flat.worst_pair_mm);
    row.most_stretched = std::max(row.most_stretched, p.flat.most_stretched);
    row.most_shrunk = std::min(row.most_shrunk, p.flat.most_shrunk);
    row.mean_strain = std::max(row.mean_strain, p.flat.mean_strain);
    row.outline_mm_per_m = std::max(row.outline_mm_per_m, p.flat.outline_mm_per_m);
    row.relief_cuts += static_cast<int>(p.cuts.size());
    if (p.flat.least_strain) row.least_strain = std::max(row.least_strain.value_or(0), *p.flat.least_strain);
  }
  return row;
}

// The sheets of all giornate in working order, every copy in files of its own: each giornata is laid flat, drawn and
// dropped.
class SheetWriter {
 public:
  SheetWriter(const CartoonInput& input, const CartoonOptions& options, const std::vector<PrintJob>& jobs,
              std::vector<CopySheets>& copies, const std::shared_ptr<Registers>& registers)
      : options_(options),
        jobs_(jobs),
        copies_(copies),
        stream_(jobs, options.relief_mm),
        sheets_(input, options, registers) {}

  Outcome write(CartoonReport& out, Progress* progress) {
    for (const PrintJob& job : jobs_) {
      if (const Outcome done = write(job, out, progress); !done) return done.problem();
    }
    for (auto& row : out.giornate) row.seam_mismatch_mm = stream_.mismatch(row.id);
    for (CopySheets& copy : copies_)
      if (const Outcome done = copy.files.finish(); !done) return done.problem();
    return Done{};
  }

 private:
  Outcome write(const PrintJob& job, CartoonReport& out, Progress* progress) {
    const double each = 0.9 / static_cast<double>(jobs_.size()), done = each * static_cast<double>(out.giornate.size());
    report(progress, done, "laying the giornate flat");
    if (is_cancelled(progress)) return kStopped;
    const auto patterns = stream_.make(job, progress);
    if (!patterns) return patterns.problem();
    report(progress, done + 0.6 * each, "drawing the sheets");
    CartoonReport::Row row = row_of(job, *patterns);
    for (CopySheets& copy : copies_) {
      if (!copy.takes(*job.giornata)) continue;
      if (is_cancelled(progress)) return kStopped;
      if (const Outcome drawn = draw(job, *patterns, copy, row, out, progress); !drawn) return drawn.problem();
    }
    out.giornate.push_back(row);
    return Done{};
  }

  Outcome draw(const PrintJob& job, const std::vector<Pattern>& patterns, CopySheets& copy, CartoonReport::Row& row,
               CartoonReport& out, Progress* progress) {
    const auto pages = copy.files.begin(copy.prefix + "giornata-" + label_of(*job.giornata));
    if (!pages) return pages.problem();
    SelectedPages counted = SelectedPages::all(**pages);
    if (const Outcome drawn = sheets_.draw(patterns, counted, progress, copy.copy); !drawn) return drawn.problem();
    const PageTally& tally = counted.tally();
    const double roll_m = options_.paper.roll ? tally.length_m : 0;
    out.sheets += tally.pages, out.paper_m2 += tally.paper_m2, out.roll_m += roll_m;
    if (copy.copy == SheetCopy::painting) row.sheets = tally.pages, row.paper_m2 = tally.paper_m2, row.roll_m = roll_m;
    if (copy.copy == SheetCopy::incision) out.incision_sheets += tally.pages;
    if (copy.copy == SheetCopy::sinopia) out.sinopia_sheets += tally.pages;
    return Done{};
  }

  const CartoonOptions& options_;
  const std::vector<PrintJob>& jobs_;
  std::vector<CopySheets>& copies_;
  PatternStream stream_;
  GiornataSheets sheets_;
};

Outcome write_plans(const CartoonInput& input, Registers& registers, OutputSet& set, Progress* progress) {
  report(progress, 0.92, "drawing the key plan and the day sheets");
  if (const Outcome made = write_key_plan(input, registers, set.add("key-plan.pdf"), progress); !made)
    return made.problem();
  if (is_cancelled(progress)) return kStopped;
  if (const Outcome made = write_key_plan_png(input, set.add("key-plan.png")); !made) return made.problem();
  if (is_cancelled(progress)) return kStopped;
  if (const Outcome made = write_day_sheets(input, registers, set.add("day-sheets.pdf"), progress); !made)
    return made.problem();
  return write_book(input, registers, set.add("book.pdf"), progress);
}

}  // namespace

Result<CartoonReport> write_cartoon(const CartoonInput& input, const std::string& out, const CartoonOptions& options,
                                    Progress* progress) {
  const std::vector<PrintJob> jobs = working_order(input);
  if (const Outcome can = check_print(jobs, input, options); !can) return can.problem();
  auto set = OutputSet::open(out, options.may_write);
  if (!set) return set.problem();
  auto copies = open_copies(input, jobs, options, *set);
  if (!copies) return copies.problem();
  const auto registers = std::make_shared<Registers>();
  CartoonReport result;
  if (const Outcome made = SheetWriter(input, options, jobs, *copies, registers).write(result, progress); !made)
    return made.problem();
  if (const Outcome made = write_plans(input, *registers, *set, progress); !made) return made.problem();
  if (is_cancelled(progress)) return kStopped;
  auto written = set->commit();
  if (!written) return written.problem();
  result.files = std::move(*written);
  report(progress, 1, "done");
  return result;
}

}  // namespace pontata
