// A shape in few lines, for small pictures where one is picked and while its measures are typed.
#pragma once

#include <vector>

#include "engine/base/vec.h"
#include "engine/wall/shapes.h"

namespace pontata {

// Border, arrises and ridge as lines of points on the exact surface, in the wall's own frame, m; domes and other bent
// walls get a few lines over them as well, so that their shape can be read. Costs a fraction of a millisecond.
// Precondition: validate(spec) has no objection.
std::vector<std::vector<Vec3>> shape_sketch(const ShapeSpec& spec);

// Measures of an ordinary wall of that shape, to start from.
ShapeSpec example_of(ShapeKind kind);

}  // namespace pontata
