// A picture's stretch as a coloured map: the wall laid flat, light where the picture lies as it was made and dark where
// it is stretched, with lines of equal stretch and a legend in words.
#pragma once

#include <string>

#include "engine/picture/stretch.h"

namespace pontata {

struct StretchMap {
  std::string project, wall_name;
  WallRef wall;
  PlacedRef picture;
  std::vector<WallRef> others;  // walls that may stand between an eye and this one
};

// Writes a PNG of width x height px (each 300 to 12,000, neither more than four times the other) and tells the range of
// stretch with its places. Refuses a path that cannot be written and a picture that shows nowhere. Same input, same
// bytes. Cancelled: Problem "stopped", nothing is written.
Result<StretchReport> write_stretch_map(const StretchMap& map, const std::string& png_path, int width = 1600,
                                        int height = 1200, Progress* progress = nullptr);

}  // namespace pontata
