// Where lines of a layout meet other than at their ends. Internal to engine/proposal.
#pragma once

#include <cstdint>
#include <span>
#include <utility>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/giornate/giornata.h"

namespace pontata {

using LatticeLine = std::vector<LatticePoint>;

// Pairs of lines (a line with itself too, a < b or a == b) that cross or touch, but for lines that begin or end in one
// place meeting there. Exact. Expected O(segments).
std::vector<std::pair<std::size_t, std::size_t>> clashes(std::span<const LatticeLine> lines);

// The line enters one of the keep-whole zones. Exact.
bool enters_whole(const LatticeLine& line, std::span<const Zone> zones);

}  // namespace pontata
