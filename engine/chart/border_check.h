// Do border loops stay clear of themselves and of each other?
#pragma once

#include <compare>
#include <cstdint>
#include <optional>
#include <vector>

#include "engine/base/lattice.h"

namespace pontata {

// A place where a loop touches or crosses itself (other than neighbours at their common point) or another loop;
// nullopt when there is none. O(n) expected, by a uniform grid.
std::optional<LatticePoint> find_border_crossing(const std::vector<Ring>& rings);

// The side of a ring from point `index` to the next.
struct BorderSide {
  std::uint32_t ring = 0, index = 0;
  auto operator<=>(const BorderSide&) const = default;
};
// Every side that touches or crosses another, in order; empty where there is none.
std::vector<BorderSide> border_crossings(const std::vector<Ring>& rings);

}  // namespace pontata
