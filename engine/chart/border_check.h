// Do border loops stay clear of themselves and of each other?
#pragma once

#include <optional>
#include <vector>

#include "engine/base/lattice.h"

namespace pontata {

// A place where a loop touches or crosses itself (other than neighbours at their common point) or another loop;
// nullopt when there is none. O(n) expected, by a uniform grid.
std::optional<LatticePoint> find_border_crossing(const std::vector<Ring>& rings);

}  // namespace pontata
