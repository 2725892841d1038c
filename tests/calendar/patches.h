// Giornate of a plan without a wall.
#pragma once

#include "engine/calendar/calendar.h"

namespace pontata::fixtures {

// A patch between two heights round u, 5 h of painting in a window of 7 h.
inline PlanInput patch(std::uint32_t id, double low, double high, double u,
                       const std::vector<std::uint32_t>& neighbours = {}) {
  PlanInput p;
  p.measure.id = GiornataId{id};
  p.measure.area_m2 = 1;
  p.measure.lowest_m = low;
  p.measure.highest_m = high;
  p.measure.inside_m = 0.5 * (low + high);
  p.measure.inside = {u, 0.5 * (low + high)};
  for (const std::uint32_t n : neighbours) p.measure.neighbours.push_back(GiornataId{n});
  p.hours = {GiornataId{id}, 5.0, 7.0, true};
  p.number = static_cast<int>(id);
  return p;
}

}  // namespace pontata::fixtures
