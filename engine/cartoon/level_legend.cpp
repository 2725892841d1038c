#include "engine/cartoon/level_legend.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/cartoon/page_cursor.h"

namespace pontata {

namespace {

void depth_bar(Pages& page, const DepthScale& scale, double least_mm, Vec2 lower_left, double height) {
  std::vector<FieldLine> ticks;
  for (double mm = scale.from_mm; mm <= scale.to_mm + 1e-9; mm += scale.step_mm)
    ticks.push_back({mm, format_fixed(mm, 0)});
  draw_colour_bar(
      page, ticks, [&](double mm) { return scale.share(mm); }, lower_left, height);
  if (least_mm < scale.from_mm || least_mm > scale.to_mm) return;
  const double y = lower_left.y + height * scale.share(least_mm);
  page.line({lower_left.x, y}, {lower_left.x + kBarWidth + 10, y}, {0.35, kBlack, {1, 0.7}});
  page.text({lower_left.x + kBarWidth + 11, y - 1}, fmt::format("least, {} mm", format_number(least_mm)), {2.8});
}

std::string depth_text(double m) { return format_fixed(1000 * m, 1) + " mm"; }

void sums(Pages& page, const LevelMap& map, Vec2 at, double width) {
  const LevelCoat& coat = *map.coat;
  page.text(at, "The whole wall", {3.4, true});
  at.y -= kLegendLine + 0.6;
  draw_legend_row(page, at, width, "area", format_fixed(coat.area_m2, 2) + " m²");
  draw_legend_row(page, at, width, "arriccio in place", format_fixed(1000 * coat.total_m3, 0) + " L");
  draw_legend_row(page, at, width, "its weight, about", format_fixed(1000 * coat.total_m3 * kMortarDensity, 0) + " kg");
  draw_legend_row(page, at, width, "mean depth", depth_text(coat.mean_m));
  draw_legend_row(page, at, width, "greatest depth", depth_text(coat.greatest_m));
  draw_legend_row(page, at, width, "least depth", depth_text(coat.thinnest_m));
  draw_legend_row(page, at, width, "straightedge", format_number(map.settings.straightedge_m) + " m");
}

void signs(Pages& page, const LevelMap& map, const DepthScale& scale, Vec2 at) {
  page.line({at.x, at.y + 1}, {at.x + 9, at.y + 1}, {0.25});
  page.text({at.x + 12, at.y}, fmt::format("equal depth, every {} mm", format_number(scale.step_mm)), {2.8});
  at.y -= kLegendLine;
  page.line({at.x, at.y + 1}, {at.x + 9, at.y + 1}, {0.7, kBlack, {}, 0.5});
  page.text({at.x + 12, at.y}, "seam; number and litres", {2.8});
  at.y -= kLegendLine;
  if (map.coat->high_spots.empty()) return;
  high_spot_mark(page, {at.x + 4.5, at.y + 1}, 3);
  page.text({at.x + 12, at.y}, "high spot, mm too high", {2.8});
}

}  // namespace

void draw_legend_row(Pages& page, Vec2& at, double width, std::string_view what, const std::string& value) {
  page.text(at, what, {3});
  page.text({at.x + width, at.y}, value, {3, true, Align::right});
  at.y -= kLegendLine;
}

void draw_colour_bar(Pages& page, const std::vector<FieldLine>& ticks, const ShareOf& share, Vec2 lower_left,
                     double height) {
  constexpr int kBands = 200;
  for (int i = 0; i < kBands; ++i)
    page.fill_rectangle({lower_left.x, lower_left.y + height * i / kBands}, {kBarWidth, 1.4 * height / kBands},
                        depth_colour((i + 0.5) / kBands));
  page.rectangle(lower_left, {kBarWidth, height}, {0.25});
  for (const FieldLine& tick : ticks) {
    const double y = lower_left.y + height * share(tick.value);
    page.line({lower_left.x + kBarWidth, y}, {lower_left.x + kBarWidth + 1.6, y}, {0.25});
    page.text({lower_left.x + kBarWidth + 2.6, y - 1.1}, tick.text, {3});
  }
}

void high_spot_mark(Pages& page, Vec2 place, double size) {
  const double h = size / 2, w = 0.58 * size;
  const std::vector<Vec2> ring{{place.x - w, place.y - h}, {place.x + w, place.y - h}, {place.x, place.y + h}};
  page.path(ring, true, {0.3, kSpotColour, {}, 0.45});
  page.fill(std::vector<std::vector<Vec2>>{ring}, kSpotColour);
}

void draw_level_legend(Pages& page, const LevelMap& map, const DepthScale& scale, Vec2 upper_left, Vec2 size) {
  constexpr double kBelow = 19 + 9 * kLegendLine;  // signs and sums
  page.text({upper_left.x, upper_left.y - 3.4}, "Depth of the arriccio, mm", {3.4, true});
  const double height = std::max(20.0, size.y - kBelow - 10);
  const double foot = upper_left.y - 8 - height;
  depth_bar(page, scale, map.settings.least_mm, {upper_left.x, foot}, height);
  signs(page, map, scale, {upper_left.x, foot - 8});
  sums(page, map, {upper_left.x, foot - 8 - 3 * kLegendLine - 3.4}, size.x);
}

void draw_scale_bar(Pages& page, const Chart& chart, double mm_per_m, Vec2 lower_left, double width) {
  double length = 0.01;
  for (const double step : {0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0})
    if (step * mm_per_m <= 0.3 * width) length = step;
  constexpr double kHeight = 1.6;
  const double part = length * mm_per_m / 4;
  for (int i = 0; i < 4; ++i)
    page.fill_rectangle({lower_left.x + i * part, lower_left.y}, {part, kHeight}, i % 2 == 0 ? kBlack : kWhite);
  page.rectangle(lower_left, {4 * part, kHeight}, {0.25});
  page.text({lower_left.x, lower_left.y + 2.6}, "0", {2.8});
  page.text({lower_left.x + 4 * part, lower_left.y + 2.6},
            length < 1 ? format_fixed(100 * length, 0) + " cm" : format_fixed(length, 0) + " m",
            {2.8, false, Align::centre});
  const ChartStretch stretch = chart.stretch();
  const double most = std::max(stretch.greatest - 1, 1 - stretch.least);
  const std::string note = most < 0.001
                               ? "The wall laid flat."
                               : fmt::format("The wall laid flat: lengths on it differ by up to {} % from the wall's.",
                                             format_fixed(100 * most, most < 0.1 ? 1 : 0));
  const double x = lower_left.x + 4 * part + 8;
  page.text({x, lower_left.y}, page.fitted(note, {2.8}, width - 4 * part - 8), {2.8, false, Align::left, 0, kGrey});
}

double draw_level_cautions(Pages& page, const LevelMap& map, Vec2 lower_left, double width) {
  std::string words =
      "Lime burns eyes and skin: goggles, gloves, covered arms; rinse at once for 20 minutes, get medical help. Mortar "
      "is heavy: keep to the load on the scaffold's tag.";
  if (!map.coat->high_spots.empty()) words += " Hack high spots back only if a conservator and the structure allow it.";
  if (map.old_plaster)
    words +=
        " Old plaster or paint underneath: do not wet, hack or key it until a conservator has tested it and consent is "
        "given; it may also hold lead.";
  constexpr double kStep = 3.9;
  const TextStyle style{2.8};
  const auto lines = wrapped(page, words, width, style);
  for (std::size_t i = 0; i < lines.size(); ++i)
    page.text({lower_left.x, lower_left.y + kStep * static_cast<double>(lines.size() - 1 - i)}, lines[i], style);
  return kStep * static_cast<double>(lines.size());
}

}  // namespace pontata
