#include "engine/cartoon/wall_sketch.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pontata {

namespace {

constexpr double kFaded = 0.45;                        // of the picture's own strength
constexpr double kMostDots = 400, kDotsPerInch = 200;  // a chart metre, at most; on paper

// The picture reduced and faded, over the box of the chart.
Image faded_picture(const ChartedWall& wall, const Draped& draped, double dots_per_m) {
  const ChartBox box = wall.chart->box();
  const int side = std::max(1, static_cast<int>(std::max(box.width, box.height) * dots_per_m));
  Image out = over_white(draw_whole(draped, side));
  for (auto& c : out.rgb) c = static_cast<std::uint8_t>(std::lround(255 + kFaded * (c - 255.0)));
  return out;
}

void mask_outside(Pages& pdf, const ChartedWall& wall, const SketchFrame& at) {
  const ChartBox box = wall.chart->box();
  const double spill = 0.5 / at.scale();
  std::vector<std::vector<Vec2>> rings{{at(ChartPoint{-spill, -spill}), at(ChartPoint{box.width + spill, -spill}),
                                        at(ChartPoint{box.width + spill, box.height + spill}),
                                        at(ChartPoint{-spill, box.height + spill})}};
  for (const auto& ring : wall.chart->border_rings()) rings.push_back(at(ring));
  pdf.fill(rings, kWhite);
}

}  // namespace

SketchFrame::SketchFrame(const ChartedWall& wall, Vec2 lower_left, Vec2 size) {
  const ChartBox box = wall.chart->box();
  scale_ = std::min(size.x / box.width, size.y / box.height);
  origin_ = lower_left + 0.5 * (size - scale_ * Vec2{box.width, box.height});
}

std::vector<Vec2> SketchFrame::operator()(const Ring& ring) const {
  std::vector<Vec2> out;
  out.reserve(ring.size());
  for (const auto& p : ring) {
    const Vec2 q = (*this)(p);
    if (out.empty() || glm::length(q - out.back()) > 0.02) out.push_back(q);  // finer than a pen
  }
  return out;
}

void draw_wall_ground(Pages& pdf, const ChartedWall& wall, const DrapedRef& draped, const SketchFrame& at) {
  const ChartBox box = wall.chart->box();
  if (draped)
    pdf.picture(faded_picture(wall, *draped, std::min(kMostDots, at.scale() * kDotsPerInch / 25.4)),
                at(ChartPoint{0, 0}), at.scale() * Vec2{box.width, box.height});
  mask_outside(pdf, wall, at);
}

void draw_wall_sketch(Pages& pdf, const CartoonWall& wall, GiornataId marked, Vec2 lower_left, Vec2 size) {
  const SketchFrame at(*wall.wall, lower_left, size);
  for (const auto& g : wall.giornate) {
    std::vector<std::vector<Vec2>> rings;
    for (const auto& ring : g.rings) rings.push_back(at(ring));
    if (g.id == marked) pdf.fill(rings, {0.85, 0.78, 0.62});
    for (const auto& ring : rings) pdf.path(ring, true, {g.id == marked ? 0.5 : 0.15, g.id == marked ? kBlack : kGrey});
  }
  for (const auto& ring : wall.wall->chart->border_rings()) pdf.path(at(ring), true, {0.3});
  for (const auto& g : wall.giornate) {
    const bool own = g.id == marked;
    const Vec2 place = at(g.measure.inside);
    pdf.text({place.x, place.y - 0.9}, label_of(g),
             {own ? 3.4 : 1.9, own, Align::centre, 0, own ? kBlack : kGrey, 0.3});
  }
  pdf.text({lower_left.x + size.x, lower_left.y - 3}, "where it lies on the wall; not to scale",
           {2.2, false, Align::right, 0, kGrey});
}

void number_in_ring(Pages& pdf, Vec2 place, const std::string& number, double size, Colour ground) {
  std::vector<Vec2> ring;
  const double r = 0.62 * size + 0.28 * size * static_cast<double>(number.size());
  for (int i = 0; i < 32; ++i) {
    const double a = 2 * std::numbers::pi * i / 32;
    ring.push_back(place + r * Vec2{std::cos(a), std::sin(a)});
  }
  const std::vector<std::vector<Vec2>> rings{ring};
  pdf.fill(rings, ground);
  pdf.path(ring, true, {0.25});
  pdf.text({place.x, place.y - 0.36 * size}, number, {size, true, Align::centre});
}

std::vector<std::pair<Vec2, Vec2>> hatch_lines(const std::vector<std::vector<Vec2>>& rings, double angle_deg,
                                               double gap) {
  std::vector<std::pair<Vec2, Vec2>> out;
  const double angle = angle_deg * std::numbers::pi / 180;
  const Vec2 along{std::cos(angle), std::sin(angle)}, across{-along.y, along.x};
  double lo = INFINITY, hi = -INFINITY;
  for (const auto& ring : rings)
    for (const Vec2& p : ring) lo = std::min(lo, glm::dot(p, across)), hi = std::max(hi, glm::dot(p, across));
  for (double level = std::ceil(lo / gap) * gap; level < hi; level += gap) {
    std::vector<double> cuts;
    for (const auto& ring : rings)
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i], b = ring[(i + 1) % ring.size()];
        const double ha = glm::dot(a, across) - level, hb = glm::dot(b, across) - level;
        if ((ha < 0) == (hb < 0)) continue;
        cuts.push_back(glm::dot(a + (ha / (ha - hb)) * (b - a), along));
      }
    std::sort(cuts.begin(), cuts.end());
    for (std::size_t i = 0; i + 1 < cuts.size(); i += 2)
      out.emplace_back(cuts[i] * along + level * across, cuts[i + 1] * along + level * across);
  }
  return out;
}

void hatch(Pages& pdf, const std::vector<std::vector<Vec2>>& rings, double angle_deg, double gap,
           const Stroke& stroke) {
  for (const auto& [a, b] : hatch_lines(rings, angle_deg, gap)) pdf.line(a, b, stroke);
}

}  // namespace pontata
