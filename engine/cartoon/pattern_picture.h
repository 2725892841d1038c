// The draped picture as it lies on a flat pattern.
#pragma once

#include "engine/cartoon/chart_picture.h"
#include "engine/cartoon/pattern.h"
#include "engine/cartoon/tiling.h"

namespace pontata {

// What the window of one sheet shows of it: read through pattern, triangle and chart; white where there is none, and
// beyond the outline by more than 2 mm. Empty when nothing shows.
Image sheet_picture(const Pattern& pattern, ChartPicture& picture, const Tiling& tiling, const Tile& tile, int dpi);

}  // namespace pontata
