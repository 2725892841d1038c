// Lines of equal value on a grid.
//
// Based on: Lorensen and Cline, "Marching Cubes", 1987, in two dimensions (marching squares); of the two ways through a
// saddle the one that keeps high ground together.
#pragma once

#include <vector>

#include "engine/base/vec.h"
#include "engine/cartoon/depth_raster.h"

namespace pontata {

struct Isoline {
  double level = 0;
  bool closed = false;
  std::vector<Vec2> points;  // in cells: x to the right from the left edge, y up from the lower edge of the grid
};

// All lines at one level, each as one polyline with the higher side on its left, in the order of the grid. They end
// where values are missing.
std::vector<Isoline> isolines(const DepthRaster& raster, double level);

}  // namespace pontata
