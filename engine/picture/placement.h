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
// (0: it fills the chart's width); its height follows from its proportions. Refused where none of it falls on the wall.
Result<PictureFrame> place_by_size(const ChartedWall& wall, PictureSize image, ChartPoint at, double width_m,
                                   double turn_deg);

// The same without asking whether any of it falls on the wall: for a place that is not settled yet.
Result<PictureFrame> frame_by_size(const ChartedWall& wall, PictureSize image, ChartPoint at, double width_m,
                                   double turn_deg);

// The inverse: metres along the surface of the stretch from `at` of `chart_width` chart metres along the chart's u.
// What lies beside the wall counts its chart metres. Agrees with place_by_size to a pitch.
double surface_width(const ChartedWall& wall, ChartPoint at, double chart_width);

// The picture shares some area with the wall, judged in the chart.
bool touches_wall(const Chart& chart, const PictureFrame& frame);

// Pixel coordinates (x right, y down) of a chart place; outside the picture they lie outside [0, width] x [0, height].
Vec2 to_pixel(const PictureFrame& frame, PictureSize image, ChartPoint p);
ChartPoint from_pixel(const PictureFrame& frame, PictureSize image, Vec2 pixel);
bool covers(const PictureFrame& frame, ChartPoint p);

}  // namespace pontata
