// A value known at the wall's points, drawn into a grid over the box of its chart.
#pragma once

#include <span>
#include <vector>

#include "engine/chart/charted_wall.h"

namespace pontata {

struct DepthRaster {
  int width = 0, height = 0;
  std::vector<float> values;  // row by row from the top; NaN outside the wall
  float at(int x, int y) const {
    return values[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
  }
};

// Linear within each triangle, taken at the middles of the grid's cells. O(triangles + cells).
DepthRaster rasterise(const Chart& chart, std::span<const double> by_point, int width, int height);

// Means over blocks of `factor` x `factor` cells, of those that lie in the wall.
DepthRaster reduced(const DepthRaster& raster, int factor);

}  // namespace pontata
