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

}  // namespace pontata
