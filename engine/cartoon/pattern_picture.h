// The draped picture as it lies on a flat pattern.
#pragma once

#include "engine/cartoon/pattern.h"
#include "engine/cartoon/tiling.h"

namespace pontata {

// The wall's pictures over the whole chart at about the sheets' resolution, once for all sheets; nullptr without one.
struct ChartImage {
  Image image;
  PictureFrame frame;
};
std::shared_ptr<const ChartImage> picture_at(const CartoonWall& wall, int dpi);

// What the window of one sheet shows of it: read through pattern, triangle and chart; white where there is none, and
// beyond the outline by more than 2 mm. Empty when nothing shows.
Image sheet_picture(const Pattern& pattern, const ChartImage& picture, const Tiling& tiling, const Tile& tile, int dpi);

}  // namespace pontata
