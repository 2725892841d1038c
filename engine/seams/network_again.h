// The seams laid again on a wall whose border has changed: an opening cut in, or one taken away.
#pragma once

#include <span>

#include "engine/seams/network.h"

namespace pontata {

// The network of a wall with this border (rings as from Chart::border_rings) and the old network's seams: what lies in
// the wall keeps its course and owner, what lies outside is left out, and giornate end on the new border. Seams that
// part nothing any more go, and tips that rounding pinches off a giornata go to what they lie beside. Every seam is
// measured with `meter`, since a wall of another border has other sums along single seams, though not around giornate.
// Refuses where seams and border come too close to be told apart. O(n log n).
Result<Network> lay_again(const Network& old, std::span<const Ring> border, const EdgeMeter& meter);

}  // namespace pontata
