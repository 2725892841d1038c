// The picture on a pattern's sheets.
#pragma once

#include "engine/cartoon/chart_picture.h"
#include "engine/cartoon/page.h"
#include "engine/cartoon/pattern.h"
#include "engine/cartoon/tiling.h"

namespace pontata {

// Draws the tile's picture on the current page: inside the outline and 2 mm beyond it, nothing elsewhere. Drawn in
// blocks of some 10 million dots at most, so that memory stays flat however large the sheet; a block without picture
// is left out.
void draw_sheet_picture(Pages& pages, const Pattern& pattern, ChartPicture& picture, const Tiling& tiling,
                        const Tile& tile, int dpi, Progress* progress);

}  // namespace pontata
