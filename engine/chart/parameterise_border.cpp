#include "engine/chart/parameterise_border.h"

#include <algorithm>
#include <cmath>

#include "engine/base/predicates.h"
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

std::vector<std::uint32_t> crossing_points(const Loops& loops, const std::vector<Vec2>& places) {
  std::vector<std::uint32_t> out;
  std::vector<Ring> rings;
  if (!snapped(loops, places, rings)) {
    for (const auto& loop : loops) out.insert(out.end(), loop.begin(), loop.end());
    return out;
  }
  Int128 widest = 0;
  for (const Ring& ring : rings) widest = std::max(widest, twice_area(ring));
  for (std::size_t r = 0; r < rings.size(); ++r)  // a hole turned inside out
    if (const Int128 area = twice_area(rings[r]); area >= 0 && area < widest)
      out.insert(out.end(), loops[r].begin(), loops[r].end());
  for (const BorderSide& side : border_crossings(rings)) {
    const auto& loop = loops[side.ring];
    out.push_back(loop[side.index]), out.push_back(loop[(side.index + 1) % loop.size()]);
  }
  return out;
}

}  // namespace pontata
