// Where two edges of a shape run together to nothing, the last strip is left out: nobody paints a strip a few
// thousandths of a millimetre wide, and a flat chart needs width. The foot of a groin whose webs stand upright at the
// springing ends 5 mm above it (a hundredth of the rise where that is less); the two tips of a pendentive end 5 mm from
// their points (a two-hundredth of the side where that is less). On walls far beyond any building a little more, so
// that the strip is some 0.2 micrometres wide.
#pragma once

#include <string>
#include <vector>

#include "engine/wall/shape_surfaces.h"

namespace pontata {

// chi at which the webs of a groin end in the corners of the plan: the springing unless they stand upright there.
double groin_end(const CrossVault& vault);

// Angle about the axis, from the point of each tip of a pendentive, at which it ends.
double pendentive_end(const ShapeSpec& spec);

// m^2 left out; 0 for every other shape.
double area_left_out(const ShapeSpec& spec);

// What a report should say of a shape, in plain words: what is left out, and "is the unit right?" where the longest
// measure is under 0.3 m or over 100 m. Empty for most walls.
std::vector<std::string> shape_notes(const ShapeSpec& spec);

}  // namespace pontata
