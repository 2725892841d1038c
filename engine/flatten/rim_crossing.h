// Whether a flattened patch overlaps itself.
#pragma once

#include <span>
#include <vector>

#include "engine/base/vec.h"

namespace pontata {

// Two segments of the rims (closed lines over `flat`) cross in a point inside both. Touching is not crossing.
// O(n) expected, by a grid.
bool rims_cross(std::span<const std::vector<std::uint32_t>> rims, std::span<const Vec2> flat);

}  // namespace pontata
