// Whether the rims of a flat sheet run clear of themselves and of each other.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/base/vec.h"

namespace pontata {

using Loops = std::vector<std::vector<std::uint32_t>>;

// The points at both ends of every rim edge that touches or crosses another, and those of holes turned inside out; all
// points of the rims where a place does not fit the lattice. Exact on the lattice, as the chart's certificate sees it;
// empty where the rims run clear.
std::vector<std::uint32_t> crossing_points(const Loops& loops, const std::vector<Vec2>& places);

}  // namespace pontata
