#include "engine/cartoon/depth_raster.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace pontata {

namespace {

// Cells whose middle lies in the triangle a b c (counter-clockwise, in cells).
void fill(DepthRaster& out, const std::array<Vec2, 3>& p, const std::array<double, 3>& value) {
  const double twice = cross2(p[1] - p[0], p[2] - p[0]);
  if (!(twice > 0)) return;
  const auto [low_x, high_x] = std::minmax({p[0].x, p[1].x, p[2].x});
  const auto [low_y, high_y] = std::minmax({p[0].y, p[1].y, p[2].y});
  const int x0 = std::max(0, static_cast<int>(std::ceil(low_x - 0.5)));
  const int x1 = std::min(out.width - 1, static_cast<int>(std::floor(high_x - 0.5)));
  const int y0 = std::max(0, static_cast<int>(std::ceil(low_y - 0.5)));
  const int y1 = std::min(out.height - 1, static_cast<int>(std::floor(high_y - 0.5)));
  constexpr double kEdge = -1e-9;  // a middle on a common edge belongs to both
  for (int y = y0; y <= y1; ++y)
    for (int x = x0; x <= x1; ++x) {
      const Vec2 c{x + 0.5, y + 0.5};
      const double a = cross2(p[1] - c, p[2] - c) / twice, b = cross2(p[2] - c, p[0] - c) / twice;
      if (a < kEdge || b < kEdge || a + b > 1 - kEdge) continue;
      const auto row = static_cast<std::size_t>(out.height - 1 - y);
      out.values[row * static_cast<std::size_t>(out.width) + static_cast<std::size_t>(x)] =
          static_cast<float>(a * value[0] + b * value[1] + (1 - a - b) * value[2]);
    }
}

}  // namespace

DepthRaster rasterise(const Chart& chart, std::span<const double> by_point, int width, int height) {
  DepthRaster out{width, height, {}};
  out.values.assign(static_cast<std::size_t>(width) * static_cast<std::size_t>(height),
                    std::numeric_limits<float>::quiet_NaN());
  const ChartBox box = chart.box();
  const Vec2 scale{width / box.width, height / box.height};
  const auto& places = chart.places();
  for (const Triangle& t : chart.mesh().triangles)
    fill(out,
         {scale * to_vec(to_chart(places[t[0]])), scale * to_vec(to_chart(places[t[1]])),
          scale * to_vec(to_chart(places[t[2]]))},
         {by_point[t[0]], by_point[t[1]], by_point[t[2]]});
  return out;
}

DepthRaster reduced(const DepthRaster& raster, int factor) {
  DepthRaster out{(raster.width + factor - 1) / factor, (raster.height + factor - 1) / factor, {}};
  for (int y = 0; y < out.height; ++y)
    for (int x = 0; x < out.width; ++x) {
      double sum = 0;
      int count = 0;
      for (int j = y * factor; j < std::min(raster.height, (y + 1) * factor); ++j)
        for (int i = x * factor; i < std::min(raster.width, (x + 1) * factor); ++i)
          if (const float v = raster.at(i, j); !std::isnan(v)) sum += v, ++count;
      out.values.push_back(count > 0 ? static_cast<float>(sum / count) : std::numeric_limits<float>::quiet_NaN());
    }
  return out;
}

}  // namespace pontata
