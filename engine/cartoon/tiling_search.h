// Turns and shifts of a pattern that may need few sheets.
#pragma once

#include <utility>
#include <vector>

#include "engine/cartoon/tiling_grid.h"

namespace pontata {

// Index of a shape and how the pattern is laid upon it; the best first. Judged by points all over the pattern, so the
// count of each must be found exactly (tiling_of). Every third degree is tried with 64 shifts, the best are then
// refined.
std::vector<std::pair<std::size_t, Laid>> promising(const std::vector<Vec2>& corners,
                                                    const std::vector<SheetShape>& shapes);

// Corners of the convex hull, counter-clockwise (monotone chain; Andrew, "Another efficient algorithm for convex hulls
// in two dimensions", Information Processing Letters 9, 1979).
std::vector<Vec2> convex_hull(std::vector<Vec2> points);

}  // namespace pontata
