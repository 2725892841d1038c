// Needles and flat triangles: too thin to lie safely in a chart, too small to see.
#pragma once

#include "engine/wall/scan_soup.h"

namespace pontata {

// Thinner than this is mended: 4 micrometres, or a two-thousandth of the longest edge.
inline constexpr double kLeastAltitude = 4e-6;  // m
inline constexpr double kLeastSlender = 5e-4;

// Turns the shared edge of a flat triangle, collapses the short edge of a needle, or drops a flat triangle on the
// border. Works on a sheet (see make_sheet) and leaves one; the surface moves by less than the thinness it mends.
// Returns the number of triangles mended.
std::size_t mend_needles(Soup& sheet);

}  // namespace pontata
