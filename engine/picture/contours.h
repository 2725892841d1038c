// The contour field: the draped picture resampled in metres, its gradient, and sub-pixel ridges of it.
//
// Based on: Canny, "A Computational Approach to Edge Detection", 1986 (gradient of a Gaussian, ridge along the gradient
// direction, hysteresis); Di Zenzo, "A note on the gradient of a multi-image", 1986 (colour edges as well as grey).
#pragma once

#include <memory>
#include <vector>

#include "engine/base/progress.h"
#include "engine/picture/draped.h"

namespace pontata {

// What the painter may change.
struct ContourSettings {
  double scale_mm = 0;     // how wide a change of colour still is a contour; 0: as fine as the pictures allow
  double strength = 0.10;  // contrast, 0 to 1, that a contour needs somewhere; it goes on down to 0.4 of it
  bool operator==(const ContourSettings&) const = default;
};

struct ContourOptions {
  double spacing = 0;     // chart metres between samples; 0: the picture's own pixels, at least 1 mm, at most 16 Mpx
  double scale_px = 1.5;  // Gaussian, in samples
  double low = 0.04, high = 0.10;  // hysteresis on strength
};

// A grid over the chart's box: sample (i, j) sits at chart place (i * spacing, j * spacing), j upward.
// Strength is the colour contrast, 0 to 1 (black to white), of the sharp edge that would give this gradient on the
// surface: the greatest change of colour per surface metre, root mean square over the channels, times
// spacing * scale_px * sqrt(2 pi).
struct ContourField {
  double spacing = 0;
  int columns = 0, rows = 0;
  std::vector<float> magnitude;  // strength; 0 outside the picture or the wall
  std::vector<float> direction;  // radians in the chart, across the contour, -pi/2 .. pi/2: the contour itself runs at
                                 // right angles to it in the chart
  std::vector<float> ridge;      // 0 where no ridge; else the strength at the ridge
  std::vector<float> offset;     // samples, signed shift along `direction` to the sub-pixel ridge, within +-0.7
  std::size_t index(int i, int j) const {
    return static_cast<std::size_t>(j) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(i);
  }
};

// Two threads at most; the same bytes for any number of them. Cancelled: an empty field (columns 0).
ContourField contour_field(const ChartedWall& wall, const PictureFrame& frame, const Image& image,
                           const ContourOptions& options = {}, Progress* progress = nullptr);

// The contours of all draped pictures together, on the draped working grid (`options.spacing` is not asked). Where no
// picture shows there are none, nor along a picture's own edge to bare wall.
// `before`: parts whose draped tiles are the same are taken over.
ContourField contour_field(const Draped& draped, const ContourSettings& settings = {},
                           const ContourField* before = nullptr, Progress* progress = nullptr);

// Distance in surface metres from a chart place to the nearest ridge sample at or above `strength`, searched within
// `reach` metres; reach when there is none. Taken with the metric at p: relative error about reach / radius of
// curvature. For review and for the share of a line that lies on a contour.
double distance_to_contour(const ChartedWall& wall, const ContourField& field, ChartPoint p, double reach,
                           double strength);

}  // namespace pontata
