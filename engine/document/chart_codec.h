// The chart of a scan as text in the project file, so that seams stand on the very places they were drawn on: no later
// version or other machine computes that chart again.
#pragma once

#include <string>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/base/result.h"

namespace pontata {

// Differences of successive places, zigzag variable-length integers of 7 bits a byte, in base 64 (RFC 4648, section 4).
// About 10 characters a place. O(n).
std::string chart_text(const std::vector<LatticePoint>& places);

// The places again, bit for bit. Refuses text that is not base 64, breaks off, or leaves the lattice.
Result<std::vector<LatticePoint>> chart_from_text(std::string_view text);

}  // namespace pontata
