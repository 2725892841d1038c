// Outlines drawn as single strokes. Internal to engine/document/seam_files.
#pragma once

#include "engine/document/seam_files/drawing.h"

namespace pontata {

// Lines and arcs of one layer, each a stroke of its own, whose ends meet (within 0.01 mm) in pairs all the way round
// become one outline in the place of the first; every other stroke stays as it is. O(n log n).
void join_strokes(Drawing& drawing);

}  // namespace pontata
