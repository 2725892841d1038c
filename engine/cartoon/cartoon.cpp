#include "engine/cartoon/cartoon.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "engine/cartoon/day_sheet.h"
#include "engine/cartoon/key_plan.h"
#include "engine/cartoon/output_set.h"
#include "engine/cartoon/pattern_squares.h"
#include "engine/cartoon/seam_index.h"
#include "engine/cartoon/sheets.h"
#include "engine/cartoon/working_order.h"

namespace pontata {
namespace {

const Problem kStopped{"stopped", "", ""};

// All patterns that are printed or share a seam with one that is, by giornata.
using Patterns = std::map<GiornataId, std::vector<Pattern>>;

Result<Patterns> make_all(const std::vector<PrintJob>& jobs, Progress* progress) {
  Patterns out;
  double done = 0;
  for (const PrintJob& job : jobs) {
    report(progress, 0.4 * done++ / static_cast<double>(jobs.size()), "laying the giornate flat");
    std::set<GiornataId> wanted{job.giornata->id};
    wanted.insert(job.giornata->measure.neighbours.begin(), job.giornata->measure.neighbours.end());
    for (const CartoonGiornata& g : job.wall->giornate) {
      if (!wanted.contains(g.id) || out.contains(g.id)) continue;
      if (is_cancelled(progress)) return kStopped;
      auto patterns = make_patterns(*job.wall, g, progress);
      if (patterns)
        out[g.id] = std::move(*patterns);
      else if (g.id == job.giornata->id)
        return patterns.problem();  // a neighbour that is not printed may be faulty
    }
  }
  return out;
}

CartoonReport::Row row_of(const PrintJob& job, const Patterns& all, const SeamIndex& seams) {
  CartoonReport::Row row;
  row.id = job.giornata->id, row.number = job.giornata->number, row.part = job.giornata->part;
  for (const Pattern& p : all.at(job.giornata->id)) {
    row.seam_mismatch_mm = std::max(row.seam_mismatch_mm, seams.mismatch(p));
    row.max_strain = std::max(row.max_strain, p.flat.max_strain);
    row.misfit_mm = std::max(row.misfit_mm, p.flat.misfit_mm);
    if (p.flat.least_strain) row.least_strain = std::max(row.least_strain.value_or(0), *p.flat.least_strain);
  }
  return row;
}

// cartoon.pdf: the sheets of all giornate in working order.
Outcome write_sheets(const CartoonInput& input, const std::vector<PrintJob>& jobs, const Patterns& all,
                     const CartoonOptions& options, const std::string& path, CartoonReport& out, Progress* progress) {
  auto pdf = PdfPages::create(path, "Cartoon · " + input.project);
  if (!pdf) return pdf.problem();
  std::map<const CartoonWall*, std::optional<ChartPicture>> pictures;
  std::map<const CartoonWall*, std::optional<Squares>> squares;
  std::map<const CartoonWall*, SeamIndex> seams;
  for (const auto& [id, patterns] : all)
    for (const Pattern& pattern : patterns) seams[pattern.wall].add(pattern);
  for (const PrintJob& job : jobs) {
    if (!pictures.contains(job.wall)) {
      if (job.wall->draped)
        pictures[job.wall].emplace(job.wall->draped, options.picture_dpi);
      else
        pictures[job.wall];
      auto lines = wall_squares(*job.wall);
      if (!lines) return lines.problem();
      squares[job.wall] = std::move(*lines);
    }
    auto& picture = pictures[job.wall];
    const auto& lines = squares[job.wall];
    CartoonReport::Row row = row_of(job, all, seams[job.wall]);
    for (const Pattern& pattern : all.at(job.giornata->id)) {
      report(progress, 0.4 + 0.5 * static_cast<double>(out.giornate.size()) / static_cast<double>(jobs.size()),
             "drawing the sheets");
      const auto tiling = tile(pattern_corners(pattern), options.paper, options.overlap_mm);
      if (!tiling) return tiling.problem();
      draw_sheets(*pdf, pattern, *tiling, picture ? &*picture : nullptr, lines ? &*lines : nullptr, options.picture_dpi,
                  {input.project, input.trial}, progress);
      if (is_cancelled(progress)) return kStopped;
      row.sheets += static_cast<int>(tiling->tiles.size());
    }
    out.sheets += row.sheets;
    out.giornate.push_back(row);
  }
  return pdf->finish();
}

}  // namespace

Result<CartoonReport> write_cartoon(const CartoonInput& input, const std::string& out, const CartoonOptions& options,
                                    Progress* progress) {
  const std::vector<PrintJob> jobs = working_order(input);
  if (jobs.empty())
    return Problem{"there is no giornata to print", input.project, "Draw an outline first, or choose other giornate."};
  if (options.picture_dpi < 10 || options.picture_dpi > 1200)
    return Problem{"the picture's resolution on paper must be 10 to 1200 dots an inch", "", ""};
  if (!(options.paper.width_mm > 0) || !(options.paper.height_mm > 0))
    return Problem{"no paper was chosen", "", "Choose one, such as A3."};
  auto set = OutputSet::open(out);
  if (!set) return set.problem();
  const auto all = make_all(jobs, progress);
  if (!all) return all.problem();
  CartoonReport result;
  if (const Outcome made = write_sheets(input, jobs, *all, options, set->add("cartoon.pdf"), result, progress); !made)
    return made.problem();
  report(progress, 0.92, "drawing the key plan and the day sheets");
  if (const Outcome made = write_key_plan(input, set->add("key-plan.pdf"), progress); !made) return made.problem();
  if (const Outcome made = write_key_plan_png(input, set->add("key-plan.png")); !made) return made.problem();
  if (const Outcome made = write_day_sheets(input, set->add("day-sheets.pdf"), progress); !made) return made.problem();
  auto files = set->commit();
  if (!files) return files.problem();
  result.files = std::move(*files);
  report(progress, 1, "done");
  return result;
}

}  // namespace pontata
