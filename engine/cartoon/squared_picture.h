// A picture with the wall's squares drawn over it, to be printed and carried over by eye.
#pragma once

#include <string>

#include "engine/base/progress.h"
#include "engine/picture/placed_picture.h"
#include "engine/picture/squares.h"

namespace pontata {

struct SquaredPicture {
  int width = 0, height = 0;  // pixels that were written
  Squares squares;
};

// Writes the picture's own pixels (at most 4096 a side) with the wall's squares, named along its edges, as PNG or PDF
// by the name's ending. The lines run as they lie on the wall, so they bend where the picture is bent. Lines that the
// picture does not show are left out. Refuses a picture whose file is gone and one without a single line on it.
// Nothing is left behind where it fails.
Result<SquaredPicture> write_squared_picture(const ChartedWall& wall, const PlacedPicture& picture, double step_m,
                                             const std::string& path, Progress* progress = nullptr);

}  // namespace pontata
