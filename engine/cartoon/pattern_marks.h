// Match marks on a pattern's rim, and how true its rim is between them.
#pragma once

#include <map>

#include "engine/cartoon/pattern.h"
#include "engine/cartoon/rim_sides.h"
#include "engine/cartoon/seam_marks.h"

namespace pontata {

// Mouths of cuts by their chart place, with their marks' names.
using MouthNames = std::map<LatticePoint, std::string>;

// Marks on the seams (numbers), at mouths of this pattern's and of its neighbours' cuts, and on both lips of its own
// cuts; in the rim's order. `p` has its patch, flat and cuts. O(rim points * mouths over a cut of the chart).
void add_marks(Pattern& p, const RimSides& sides, const SeamMarks& seams, const MouthNames& mouths);

// Greatest |printed - surface| length (mm) of rim between neighbouring match marks on its seams, mouths and junctions;
// along wall without a neighbour, between the ends of that stretch. Lips are left out.
double misfit_between_marks(const Pattern& p, const RimSides& sides, const SeamMarks& seams);

}  // namespace pontata
