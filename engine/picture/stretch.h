// How far a picture is stretched where it lies on a wall.
#pragma once

#include <optional>
#include <vector>

#include "engine/base/progress.h"
#include "engine/picture/placed_picture.h"

namespace pontata {

// Millimetres of wall, along the surface, that one pixel's width covers in the direction in which it covers least and
// in the one in which it covers most (the two are at right angles on the wall).
struct PixelSpread {
  double least_mm = 0, greatest_mm = 0;
};

// From the singular values of d(pixel)/d(surface): along two tangents of the smooth surface for pictures seen along
// lines of sight, by the wall's metric for those laid in the chart. Nothing off the wall, behind an eye, or where the
// picture is seen edge-on. Whether the picture shows there is not asked.
std::optional<PixelSpread> pixel_spread(const ChartedWall& wall, const PlacedPicture& picture, ChartPoint p);

// A place and the stretch there.
struct StretchAt {
  ChartPoint place;
  double times = 1;
};

// What is told of a picture. Stretch is the greatest length of a pixel at a place over the picture's own, which is the
// median (by area of the wall) of the pixels' least lengths: 1 throughout for a picture laid unrolled on a wall that
// unrolls, 1 / cos of the wall's slope by elevation.
struct StretchReport {
  double own_mm_per_px = 0;
  StretchAt least, greatest;
  double within_tenth = 0;  // share of the area it covers that is stretched by less than 1.1 times
  double area_m2 = 0;       // of wall that it covers
};

// Stretch over the chart's box, row by row from the top; NaN where the picture does not show.
struct StretchField {
  int width = 0, height = 0;
  double spacing = 0;  // chart m; pixel (x, y) lies at ((x + 1/2), (height - y - 1/2)) * spacing
  std::vector<float> times;
  StretchReport report;
};

// With about `side` samples along the longer side of the chart's box. `others`: walls that may stand between an eye and
// this one. A Problem where the picture shows nowhere on the wall. Cancelled: Problem "stopped".
Result<StretchField> stretch_field(const WallRef& wall, const PlacedPicture& picture, std::span<const WallRef> others,
                                   int side, Progress* progress = nullptr);

}  // namespace pontata
