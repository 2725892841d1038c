// How much of each surface triangle lies inside rings of the chart: for anything that is known per triangle.
#pragma once

#include <cstdint>
#include <functional>
#include <span>

#include "engine/chart/charted_wall.h"

namespace pontata {

// Calls visit(triangle, share) for every triangle with a part inside, in order; share is 1 for one wholly inside and
// adds up to 1 over rings that cover the triangle without overlap (to about 1e-15). O(triangles x rim / grid).
void visit_shares(const ChartedWall& wall, std::span<const Ring> rings,
                  const std::function<void(std::uint32_t, long double)>& visit);

}  // namespace pontata
