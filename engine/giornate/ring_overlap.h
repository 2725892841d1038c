// What two areas of the chart have in common, and what one has beyond the other, on the lattice.
#pragma once

#include <span>
#include <vector>

#include "engine/base/lattice.h"

namespace pontata {

// Areas are sets of rings by the even-odd rule. Results: outer rings counter-clockwise, holes clockwise; crossings are
// rounded to the lattice. Based on: Vatti, "A generic solution to polygon clipping", 1992 (polyclipping).
std::vector<Ring> overlap(std::span<const Ring> a, std::span<const Ring> b);
std::vector<Ring> without(std::span<const Ring> a, std::span<const Ring> b);

}  // namespace pontata
