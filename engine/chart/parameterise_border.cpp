#include "engine/chart/parameterise_border.h"

#include <cmath>

#include "engine/chart/border_check.h"

namespace pontata {

namespace {

// False where a place does not fit the lattice.
bool snapped(const Loops& loops, const std::vector<Vec2>& places, std::vector<Ring>& rings) {
  for (const auto& loop : loops) {
    Ring& ring = rings.emplace_back();
    for (const auto p : loop) {
      const ChartPoint at = to_chart(places[p]);
      if (!std::isfinite(at.u + at.v) || !fits_lattice(at)) return false;
      ring.push_back(to_lattice(at));
    }
  }
  return true;
}

}  // namespace

bool rims_cross(const Loops& loops, const std::vector<Vec2>& places) {
  std::vector<Ring> rings;
  return !snapped(loops, places, rings) || find_border_crossing(rings).has_value();
}

std::vector<std::uint32_t> crossing_points(const Loops& loops, const std::vector<Vec2>& places) {
  std::vector<std::uint32_t> out;
  std::vector<Ring> rings;
  if (!snapped(loops, places, rings)) {
    for (const auto& loop : loops) out.insert(out.end(), loop.begin(), loop.end());
    return out;
  }
  for (const BorderSide& side : border_crossings(rings)) {
    const auto& loop = loops[side.ring];
    out.push_back(loop[side.index]), out.push_back(loop[(side.index + 1) % loop.size()]);
  }
  return out;
}

}  // namespace pontata
