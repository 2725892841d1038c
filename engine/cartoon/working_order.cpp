#include "engine/cartoon/working_order.h"

#include <algorithm>
#include <tuple>

namespace pontata {

std::vector<PrintJob> working_order(const CartoonInput& input) {
  std::vector<PrintJob> jobs;
  for (const CartoonWall& wall : input.walls)
    for (const CartoonGiornata& g : wall.giornate)
      if (input.only.empty() || std::find(input.only.begin(), input.only.end(), g.id) != input.only.end())
        jobs.push_back({&wall, &g});
  const auto key = [](const PrintJob& job) {
    const PlannedDay& day = job.giornata->day;
    return std::make_tuple(day.dated, day.dated ? day.date : Date{}, job.giornata->number, job.giornata->part);
  };
  std::stable_sort(jobs.begin(), jobs.end(), [&](const PrintJob& a, const PrintJob& b) { return key(a) < key(b); });
  return jobs;
}

Outcome check_print(const std::vector<PrintJob>& jobs, const CartoonInput& input, const CartoonOptions& options) {
  if (jobs.empty())
    return Problem{"there is no giornata to print", input.project, "Draw an outline first, or choose other giornate."};
  if (options.picture_dpi < 10 || options.picture_dpi > 1200)
    return Problem{"the picture's resolution on paper must be 10 to 1200 dots an inch", "", ""};
  if (!(options.paper.width_mm > 0) || !(options.paper.height_mm > 0))
    return Problem{"no paper was chosen", "", "Choose one, such as A3."};
  return Done{};
}

}  // namespace pontata
