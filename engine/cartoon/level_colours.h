// Colours and steps of the depth map.
#pragma once

#include "engine/cartoon/page.h"

namespace pontata {

// Colour of a share 0 (thin, light) to 1 (deep, dark). CIE lightness falls evenly from 95 to 22 while the hue goes from
// warm to cool, so that it reads in grey and by colour-blind eyes. sRGB (IEC 61966-2-1, D65).
Colour depth_colour(double share);

// Depths of the scale in mm: it begins and ends on a line of equal depth.
struct DepthScale {
  double from_mm = 0, to_mm = 5, step_mm = 5;
  double share(double depth_mm) const { return (depth_mm - from_mm) / (to_mm - from_mm); }
};
// Lines every 5 mm; farther apart where there would be more than 16 of them.
DepthScale depth_scale(double thinnest_mm, double greatest_mm);

}  // namespace pontata
