#include "engine/cartoon/key_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "engine/base/units.h"
#include "engine/cartoon/page.h"
#include "engine/cartoon/pattern_squares.h"
#include "engine/cartoon/wall_sketch.h"

namespace pontata {

namespace {

constexpr double kWidth = 420, kHeight = 297, kMargin = 12;  // A3 landscape, ISO 216, mm
constexpr double kListWidth = 112;
constexpr double kFaded = 0.45;  // of the picture's own strength

// Each pontata has its own slant and spacing of lines, so that it reads without colour.
struct Pattern {
  double angle_deg, gap_mm;
};
constexpr std::array<Pattern, 6> kPatterns{{{45, 4.0}, {-45, 4.0}, {0, 3.0}, {90, 3.0}, {30, 2.2}, {-30, 2.2}}};

// The picture reduced and faded, over the box of the chart.
std::optional<Image> faded_picture(const CartoonWall& wall, double dots_per_m) {
  if (!wall.draped) return std::nullopt;
  const ChartBox box = wall.wall->chart->box();
  const int side = std::max(1, static_cast<int>(std::max(box.width, box.height) * dots_per_m));
  Image out = over_white(draw_whole(*wall.draped, side));
  for (auto& c : out.rgb) c = static_cast<std::uint8_t>(std::lround(255 + kFaded * (c - 255.0)));
  return out;
}

// White over all of the box that is not wall.
void mask_outside(Pages& pdf, const CartoonWall& wall, const SketchFrame& at) {
  const ChartBox box = wall.wall->chart->box();
  const double spill = 0.5 / at.scale();
  std::vector<std::vector<Vec2>> rings{{at(ChartPoint{-spill, -spill}), at(ChartPoint{box.width + spill, -spill}),
                                        at(ChartPoint{box.width + spill, box.height + spill}),
                                        at(ChartPoint{-spill, box.height + spill})}};
  for (const auto& ring : wall.wall->chart->border_rings()) rings.push_back(at(ring));
  pdf.fill(rings, kWhite);
}

// Lines of the squares with their names at their lower or left ends. A wall with more than can be drawn shows none
// here.
void draw_squares(Pages& pdf, const CartoonWall& wall, const SketchFrame& at) {
  const auto squares = wall_squares(wall);
  if (!squares || !*squares) return;
  for (const SquareLine& line : (*squares)->lines) {
    for (const auto& stretch : line.stretches) pdf.line(at(stretch.from), at(stretch.to), {0.15, kBlack, {}, 0.2});
    const Vec2 end = at(line.stretches.front().from) - (line.upright ? Vec2{0, 3.2} : Vec2{2.6, 0.9});
    pdf.text(end, line.name, {2.4, false, Align::centre});
  }
}

void draw_plan(Pages& pdf, const CartoonWall& wall, Vec2 lower_left, Vec2 size) {
  const SketchFrame at(*wall.wall, lower_left, size);
  const ChartBox box = wall.wall->chart->box();
  if (const auto image = faded_picture(wall, std::min(400.0, at.scale() * 200 / 25.4)))
    pdf.picture(*image, at(ChartPoint{0, 0}), at.scale() * Vec2{box.width, box.height});
  mask_outside(pdf, wall, at);
  draw_squares(pdf, wall, at);
  for (const auto& g : wall.giornate) {
    std::vector<std::vector<Vec2>> rings;
    for (const auto& ring : g.rings) rings.push_back(at(ring));
    const Pattern& pattern = kPatterns[static_cast<std::size_t>(std::max(1, g.day.pontata) - 1) % kPatterns.size()];
    hatch(pdf, rings, pattern.angle_deg, pattern.gap_mm, {0.12, {0.25, 0.22, 0.2}});
    for (const auto& ring : rings) pdf.path(ring, true, {0.45, kBlack, {}, 0.35});
  }
  for (const auto& ring : wall.wall->chart->border_rings()) pdf.path(at(ring), true, {0.7});
  const double size_mm = std::clamp(size.y / 55, 2.4, 4.6);
  for (const auto& g : wall.giornate) number_in_ring(pdf, at(g.measure.inside), label_of(g), size_mm);
}

std::set<int> pontate_of(const CartoonWall& wall) {
  std::set<int> out;
  for (const auto& g : wall.giornate) out.insert(g.day.pontata);
  return out;
}

void legend(Pages& pdf, const CartoonWall& wall, Vec2 at) {
  double x = at.x;
  for (const int pontata : pontate_of(wall)) {
    const std::vector<std::vector<Vec2>> box{{{x, at.y}, {x + 10, at.y}, {x + 10, at.y + 6}, {x, at.y + 6}}};
    const Pattern& p = kPatterns[static_cast<std::size_t>(std::max(1, pontata) - 1) % kPatterns.size()];
    hatch(pdf, box, p.angle_deg, p.gap_mm * 0.6, {0.12});
    pdf.path(box[0], true, {0.25});
    pdf.text({x + 12, at.y + 1.8}, fmt::format("pontata {}", pontata), {3});
    x += 36;
  }
}

// Rows of the list from `from` on; returns the first that did not fit.
std::size_t list(Pages& pdf, const CartoonWall& wall, std::size_t from) {
  const double x = kWidth - kMargin - kListWidth;
  double y = kHeight - kMargin - 22;
  pdf.text({x, y}, "no.", {3, true});
  pdf.text({x + 11, y}, "giornata", {3, true});
  pdf.text({x + 74, y}, "m²", {3, true, Align::right});
  pdf.text({x + 85, y}, "L", {3, true, Align::right});
  pdf.text({x + kListWidth, y}, "day", {3, true, Align::right});
  y -= 1.6;
  pdf.line({x, y}, {x + kListWidth, y}, {0.2, kGrey});
  std::size_t i = from;
  for (; i < wall.giornate.size() && y > kMargin + 8; ++i) {
    const auto& g = wall.giornate[i];
    y -= 5;
    pdf.text({x, y}, label_of(g), {3, true});
    pdf.text({x + 11, y}, pdf.fitted(g.name, {3}, 52), {3});
    pdf.text({x + 74, y}, format_fixed(g.measure.area_m2, 2), {3, false, Align::right});
    pdf.text({x + 85, y}, format_fixed(g.need.mortar_L, 1), {3, false, Align::right});
    pdf.text({x + kListWidth, y}, g.day.dated ? format_date(g.day.date) : "done", {3, false, Align::right});
  }
  return i;
}

}  // namespace

Outcome write_key_plan(const CartoonInput& input, const std::string& pdf_path, Progress* progress) {
  auto pdf = PdfPages::create(pdf_path, "Key plan · " + input.project);
  if (!pdf) return pdf.problem();
  for (const auto& wall : input.walls) {
    if (wall.giornate.empty()) continue;
    for (std::size_t from = 0; from < wall.giornate.size();) {
      if (is_cancelled(progress)) return Problem{"stopped", "", ""};
      pdf->begin_page(kWidth, kHeight);
      pdf->text({kMargin, kHeight - kMargin - 7}, fmt::format("Key plan · wall “{}”", wall.name), {7, true});
      pdf->text({kMargin, kHeight - kMargin - 13},
                fmt::format("{} · {} giornate in working order · the wall laid flat, not to scale", input.project,
                            wall.giornate.size()),
                {3.4});
      draw_plan(*pdf, wall, {kMargin, kMargin + 10},
                {kWidth - 2 * kMargin - kListWidth - 10, kHeight - 2 * kMargin - 28});
      legend(*pdf, wall, {kMargin, kMargin - 2});
      from = list(*pdf, wall, from);
    }
  }
  return pdf->finish();
}

Outcome write_key_plan_png(const CartoonInput& input, const std::string& png_path, double dpi) {
  std::vector<const CartoonWall*> walls;
  for (const auto& wall : input.walls)
    if (!wall.giornate.empty()) walls.push_back(&wall);
  auto png = PdfPages::create_png(png_path, dpi);
  if (!png) return png.problem();
  constexpr double kPlanHeight = 230, kGap = 12;
  double width = kGap;
  for (const auto* wall : walls) {
    const ChartBox box = wall->wall->chart->box();
    width += std::min(kPlanHeight * box.width / box.height, 420.0) + kGap;
  }
  png->begin_page(std::max(width, 60.0), kPlanHeight + 34);
  double x = kGap;
  for (const auto* wall : walls) {
    const ChartBox box = wall->wall->chart->box();
    const double w = std::min(kPlanHeight * box.width / box.height, 420.0);
    png->text({x, kPlanHeight + 24},
              png->fitted(fmt::format("{} · {} giornate", wall->name, wall->giornate.size()), {5, true}, w), {5, true});
    draw_plan(*png, *wall, {x, 18}, {w, kPlanHeight});
    legend(*png, *wall, {x, 6});
    x += w + kGap;
  }
  return png->finish();
}

}  // namespace pontata
