// Where two segments cross, on the lattice.
#pragma once

#include "engine/base/predicates.h"

namespace pontata {

// Lattice point whose unit square holds the crossing of ab and cd. Exact. Precondition: segments_cross.
LatticePoint rounded_crossing(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d);

}  // namespace pontata
