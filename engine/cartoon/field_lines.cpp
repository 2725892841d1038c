#include "engine/cartoon/field_lines.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "engine/cartoon/isolines.h"
#include "engine/cartoon/level_colours.h"

namespace pontata {

namespace {

std::uint8_t byte(double share) { return static_cast<std::uint8_t>(std::lround(255 * std::clamp(share, 0.0, 1.0))); }

double length_of(const std::vector<Vec2>& line) {
  double sum = 0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) sum += glm::length(line[i + 1] - line[i]);
  return sum;
}

// Where the line runs straightest over the label's width, away from the labels already set.
std::optional<FieldLabel> label_on(const std::vector<Vec2>& line, double width, const std::vector<FieldLabel>& taken) {
  constexpr double kApart = 14;  // mm
  std::optional<FieldLabel> best;
  double best_straight = 0.9;
  std::size_t last = 0;
  double along = 0;
  for (std::size_t i = 0; i < line.size(); ++i) {
    while (last + 1 < line.size() && along < width) along += glm::length(line[last + 1] - line[last]), ++last;
    if (along < width) break;
    const Vec2 chord = line[last] - line[i];
    const Vec2 middle = line[i] + 0.5 * chord;
    const bool clear = std::all_of(taken.begin(), taken.end(),
                                   [&](const FieldLabel& l) { return glm::length(l.place - middle) > kApart; });
    if (clear && glm::length(chord) > best_straight * along) {
      best_straight = glm::length(chord) / along;
      double angle = std::atan2(chord.y, chord.x) * 180 / std::numbers::pi;
      if (angle > 90) angle -= 180;
      if (angle <= -90) angle += 180;
      best = FieldLabel{middle, angle, {}};
    }
    if (i + 1 < line.size()) along -= glm::length(line[i + 1] - line[i]);
  }
  return best;
}

}  // namespace

Image coloured(const DepthRaster& raster, const ShareOf& share) {
  Image out{raster.width, raster.height, {}};
  out.rgb.reserve(3 * raster.values.size());
  for (const float value : raster.values) {
    const Colour c = std::isnan(value) ? kWhite : depth_colour(share(value));
    for (const double part : {c.red, c.green, c.blue}) out.rgb.push_back(byte(part));
  }
  return out;
}

std::vector<FieldLabel> draw_field_lines(Pages& page, const DepthRaster& map, const std::vector<FieldLine>& lines,
                                         const ShareOf& share, Vec2 lower_left, Vec2 size,
                                         std::vector<FieldLabel> taken) {
  constexpr double kCell = 0.8, kShortest = 5, kLabelled = 16;  // mm: of the grid; of the shortest lines
  const int factor = std::max(1, static_cast<int>(std::lround(kCell * map.width / size.x)));
  const DepthRaster coarse = reduced(map, factor);
  const Vec2 cell = static_cast<double>(factor) * Vec2{size.x / map.width, size.y / map.height};
  const double cut = coarse.height * cell.y - size.y;  // the lowest row of blocks may reach below the map
  std::vector<FieldLabel> labels;
  for (const FieldLine& one : lines) {
    const Colour ink = share(one.value) > 0.62 ? Colour{0.93, 0.93, 0.9} : Colour{0.12, 0.1, 0.08};
    for (Isoline& line : isolines(coarse, one.value)) {
      for (Vec2& p : line.points) p = lower_left + cell * p - Vec2{0, cut};
      const double length = length_of(line.points);
      if (length < kShortest) continue;
      page.path(line.points, line.closed, {0.22, ink});
      if (length < kLabelled) continue;
      auto label = label_on(line.points, 2.2 * static_cast<double>(one.text.size()) + 1, taken);
      if (!label) continue;
      label->text = one.text;
      taken.push_back(*label);
      labels.push_back(*label);
    }
  }
  return labels;
}

void draw_field_labels(Pages& page, const std::vector<FieldLabel>& labels) {
  for (const FieldLabel& l : labels) {
    const double a = l.angle_deg * std::numbers::pi / 180;
    page.text(l.place + 0.95 * Vec2{std::sin(a), -std::cos(a)}, l.text,
              {2.6, false, Align::centre, l.angle_deg, kBlack, 0.45});
  }
}

}  // namespace pontata
