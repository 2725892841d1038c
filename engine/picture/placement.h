// Where a picture lies on the wall: by size and place in the chart.
#pragma once

#include <memory>

#include "engine/base/result.h"
#include "engine/chart/charted_wall.h"
#include "engine/picture/image.h"

namespace pontata {

// Width and height of a picture in pixels, upright.
struct PictureSize {
  int width = 0, height = 0;
  PictureSize() = default;
  PictureSize(int w, int h) : width(w), height(h) {}
  PictureSize(const Image& image) : width(image.width), height(image.height) {}
  bool operator==(const PictureSize&) const = default;
};

// An affine map of the chart: lower left corner at (u, v), width and height in chart metres, turned about that corner.
struct PictureFrame {
  ChartPoint at;
  double width = 0, height = 0;  // chart metres
  double turn_deg = 0;
  bool operator==(const PictureFrame&) const = default;
};

// The frame of a picture whose width is `width_m` metres along the surface, measured along the chart's u through `at`
// (0: it fills the chart's width); its height follows from its proportions.
Result<PictureFrame> place_by_size(const ChartedWall& wall, PictureSize image, ChartPoint at, double width_m,
                                   double turn_deg);

// Pixel coordinates (x right, y down) of a chart place; outside the picture they lie outside [0, width] x [0, height].
Vec2 to_pixel(const PictureFrame& frame, PictureSize image, ChartPoint p);
ChartPoint from_pixel(const PictureFrame& frame, PictureSize image, Vec2 pixel);
bool covers(const PictureFrame& frame, ChartPoint p);

}  // namespace pontata
