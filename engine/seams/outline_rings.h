// Outlines as they are given, made fit to be laid. Internal to engine/seams.
#pragma once

#include <span>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/base/result.h"

namespace pontata {

// Each counter-clockwise and without repeated points. Refuses one that has fewer than 3 points, crosses or touches
// itself or another of them (with the place), or reaches far outside the wall. O(n log n) for one of n points.
Result<std::vector<Ring>> clean_outlines(std::span<const Ring> outlines);

}  // namespace pontata
