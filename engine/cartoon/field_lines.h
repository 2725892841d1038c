// A field over the wall laid flat, as it is drawn on a map: its colours, and its lines of equal value with their
// labels.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "engine/cartoon/depth_raster.h"
#include "engine/cartoon/page.h"

namespace pontata {

using ShareOf = std::function<double(double value)>;  // where a value lies in the ramp of colours, 0 light .. 1 dark

// White where the raster has no value.
Image coloured(const DepthRaster& raster, const ShareOf& share);

struct FieldLine {
  double value = 0;
  std::string text;  // its label
};

struct FieldLabel {
  Vec2 place;  // mm on the page
  double angle_deg = 0;
  std::string text{};
};

// Draws the lines of equal value over a map whose lower left and size (mm) are given; `map` covers it, or reaches below
// it by part of a row. Returns the labels of the lines that are long enough for one, where they run straightest, clear
// of each other and of the places `taken`.
std::vector<FieldLabel> draw_field_lines(Pages& page, const DepthRaster& map, const std::vector<FieldLine>& lines,
                                         const ShareOf& share, Vec2 lower_left, Vec2 size,
                                         std::vector<FieldLabel> taken);
void draw_field_labels(Pages& page, const std::vector<FieldLabel>& labels);

}  // namespace pontata
