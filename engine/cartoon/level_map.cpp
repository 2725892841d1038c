#include "engine/cartoon/level_map.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/cartoon/depth_raster.h"
#include "engine/cartoon/field_lines.h"
#include "engine/cartoon/level_legend.h"
#include "engine/cartoon/wall_sketch.h"

namespace pontata {

namespace {

constexpr double kPage = 340;  // mm, the longer side of the sheet
constexpr double kMargin = 11;
constexpr double kLegend = 58;  // width of the column beside the map
constexpr double kHead = 19;    // height of the title above it

std::vector<FieldLine> depth_lines(const DepthScale& scale) {
  std::vector<FieldLine> lines;
  for (double mm = scale.from_mm + scale.step_mm; mm < scale.to_mm - 1e-9; mm += scale.step_mm)
    lines.push_back({mm, format_number(mm)});
  return lines;
}

void draw_giornate(Pages& page, const LevelMap& map, const SketchFrame& at) {
  for (const auto& g : map.giornate)
    for (const auto& ring : g.rings) page.path(at(ring), true, {0.6, kBlack, {}, 0.4});
  for (const auto& ring : map.wall->chart->border_rings()) page.path(at(ring), true, {0.8});
}

void draw_numbers(Pages& page, const LevelMap& map, const SketchFrame& at) {
  for (const auto& g : map.giornate) {
    const Vec2 place = at(g.inside);
    number_in_ring(page, place, label_of(g), 3.4);
    page.text({place.x, place.y - 7}, format_fixed(g.litres, g.litres < 10 ? 1 : 0) + " L",
              {2.8, true, Align::centre, 0, kBlack, 0.5});
  }
}

void draw_high_spots(Pages& page, const LevelMap& map, const SketchFrame& at) {
  constexpr std::size_t kMostMarked = 40;  // the highest come first
  for (std::size_t i = 0; i < std::min(kMostMarked, map.coat->high_spots.size()); ++i) {
    const HighSpot& spot = map.coat->high_spots[i];
    const Vec2 place = at(spot.place);
    high_spot_mark(page, place, 3);
    page.text({place.x + 2.4, place.y - 1}, format_fixed(std::max(1.0, 1000 * spot.height_m), 0),
              {2.8, true, Align::left, 0, kSpotColour, 0.5});
  }
}

// Places that labels of the lines keep clear of.
std::vector<FieldLabel> marked_places(const LevelMap& map, const SketchFrame& at) {
  std::vector<FieldLabel> out;
  for (const auto& g : map.giornate) out.push_back({at(g.inside)}), out.push_back({at(g.inside) - Vec2{0, 6}});
  for (const auto& spot : map.coat->high_spots) out.push_back({at(spot.place)});
  return out;
}

void draw_map(Pages& page, const LevelMap& map, const DepthScale& scale, const SketchFrame& at, double dots_per_mm) {
  const ChartBox box = map.wall->chart->box();
  const Vec2 lower_left = at(ChartPoint{0, 0}), size = at.scale() * Vec2{box.width, box.height};
  std::vector<double> depth_mm(map.coat->depth_m);
  for (double& d : depth_mm) d *= 1000;
  const auto dots = [&](double mm) { return std::max(1, static_cast<int>(std::lround(mm * dots_per_mm))); };
  const DepthRaster raster = rasterise(*map.wall->chart, depth_mm, dots(size.x), dots(size.y));
  const auto share = [&](double mm) { return scale.share(mm); };
  page.picture(coloured(raster, share), lower_left, size);
  const auto labels =
      draw_field_lines(page, raster, depth_lines(scale), share, lower_left, size, marked_places(map, at));
  draw_giornate(page, map, at);
  draw_field_labels(page, labels);
  draw_high_spots(page, map, at);
  draw_numbers(page, map, at);
}

void draw_head(Pages& page, const LevelMap& map, Vec2 size) {
  const double y = size.y - kMargin - 5;
  page.text({kMargin, y},
            page.fitted(fmt::format("Levelling coat · wall “{}”", map.wall_name), {7, true}, size.x - 2 * kMargin),
            {7, true});
  const std::string what = fmt::format(
      "{} · arriccio from the wall to the fair surface, seen from the painted side · at least {} mm over all but {} % "
      "of "
      "the area",
      map.project, format_number(map.settings.least_mm), format_number(100 * kHighShare));
  page.text({kMargin, y - 6.5}, page.fitted(what, {3.2}, size.x - 2 * kMargin), {3.2});
}

}  // namespace

Outcome write_level_map(const LevelMap& map, const std::string& png_path, int width, int height) {
  const double dots_per_mm = std::max(width, height) / kPage;
  auto page = PdfPages::create_png(png_path, dots_per_mm * 25.4);
  if (!page) return page.problem();
  const Vec2 size = Vec2{width, height} / dots_per_mm;
  page->begin_page(size.x, size.y);
  const LevelCoat& coat = *map.coat;
  const DepthScale scale = depth_scale(1000 * coat.thinnest_m, 1000 * coat.greatest_m);
  draw_head(*page, map, size);
  const double cautions = draw_level_cautions(*page, map, {kMargin, kMargin - 2}, size.x - 2 * kMargin);
  const double foot = kMargin + cautions + 9;
  const Vec2 room{size.x - 2 * kMargin - kLegend - 10, size.y - foot - kMargin - kHead};
  const SketchFrame at(*map.wall, {kMargin, foot}, room);
  draw_map(*page, map, scale, at, dots_per_mm);
  draw_scale_bar(*page, *map.wall->chart, at.scale(), {kMargin, kMargin + cautions}, room.x);
  draw_level_legend(*page, map, scale, {size.x - kMargin - kLegend, foot + room.y}, {kLegend, room.y + 6});
  return page->finish();
}

}  // namespace pontata
