// Items joined into sets, each item naming another of its set or, as the root, itself.
//
// Based on: Tarjan and van Leeuwen, "Worst-case analysis of set union algorithms", 1984 (path halving).
#pragma once

#include <cstdint>
#include <vector>

namespace pontata {

// The root of item i's set; shortens the way there. Two sets are joined by naming one root from the other.
inline std::uint32_t root_of(std::vector<std::uint32_t>& up, std::uint32_t i) {
  while (up[i] != i) i = up[i] = up[up[i]];
  return i;
}

}  // namespace pontata
