#include "engine/chart/parameterise_border.h"

#include <cmath>

#include "engine/chart/border_check.h"

namespace pontata {

bool rims_cross(const Loops& loops, const std::vector<Vec2>& places) {
  std::vector<Ring> rings;
  for (const auto& loop : loops) {
    Ring& ring = rings.emplace_back();
    for (const auto p : loop) {
      const ChartPoint at = to_chart(places[p]);
      if (!std::isfinite(at.u + at.v) || !fits_lattice(at)) return true;
      ring.push_back(to_lattice(at));
    }
  }
  return find_border_crossing(rings).has_value();
}

}  // namespace pontata
