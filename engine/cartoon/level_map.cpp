#include "engine/cartoon/level_map.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "engine/base/units.h"
#include "engine/cartoon/depth_raster.h"
#include "engine/cartoon/isolines.h"
#include "engine/cartoon/level_legend.h"
#include "engine/cartoon/wall_sketch.h"

namespace pontata {

namespace {

constexpr double kPage = 340;  // mm, the longer side of the sheet
constexpr double kMargin = 11;
constexpr double kLegend = 58;  // width of the column beside the map
constexpr double kHead = 19;    // height of the title above it

std::uint8_t byte(double share) { return static_cast<std::uint8_t>(std::lround(255 * std::clamp(share, 0.0, 1.0))); }

Image coloured(const DepthRaster& raster, const DepthScale& scale) {
  Image out{raster.width, raster.height, {}};
  out.rgb.reserve(3 * raster.values.size());
  for (const float mm : raster.values) {
    const Colour c = std::isnan(mm) ? kWhite : depth_colour(scale.share(mm));
    for (const double part : {c.red, c.green, c.blue}) out.rgb.push_back(byte(part));
  }
  return out;
}

double length_of(const std::vector<Vec2>& line) {
  double sum = 0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) sum += glm::length(line[i + 1] - line[i]);
  return sum;
}

struct Label {
  Vec2 place;
  double angle_deg = 0;
  std::string text{};
};

// Where the line runs straightest over the label's width, away from the labels already set.
std::optional<Label> label_on(const std::vector<Vec2>& line, double width, const std::vector<Label>& taken) {
  constexpr double kApart = 14;  // mm
  std::optional<Label> best;
  double best_straight = 0.9;
  std::size_t last = 0;
  double along = 0;
  for (std::size_t i = 0; i < line.size(); ++i) {
    while (last + 1 < line.size() && along < width) along += glm::length(line[last + 1] - line[last]), ++last;
    if (along < width) break;
    const Vec2 chord = line[last] - line[i];
    const Vec2 middle = line[i] + 0.5 * chord;
    const bool clear =
        std::all_of(taken.begin(), taken.end(), [&](const Label& l) { return glm::length(l.place - middle) > kApart; });
    if (clear && glm::length(chord) > best_straight * along) {
      best_straight = glm::length(chord) / along;
      double angle = std::atan2(chord.y, chord.x) * 180 / std::numbers::pi;
      if (angle > 90) angle -= 180;
      if (angle <= -90) angle += 180;
      best = Label{middle, angle, {}};
    }
    if (i + 1 < line.size()) along -= glm::length(line[i + 1] - line[i]);
  }
  return best;
}

// Lines of equal depth; labels are set where a line is long enough for one.
std::vector<Label> draw_isolines(PdfPages& page, const DepthRaster& fine, const DepthScale& scale, Vec2 lower_left,
                                 Vec2 size, std::vector<Label> taken) {
  constexpr double kCell = 0.8, kShortest = 5, kLabelled = 16;  // mm: of the grid; of the shortest lines
  const int factor = std::max(1, static_cast<int>(std::lround(kCell * fine.width / size.x)));
  const DepthRaster coarse = reduced(fine, factor);
  const Vec2 cell = static_cast<double>(factor) * Vec2{size.x / fine.width, size.y / fine.height};
  const double cut = coarse.height * cell.y - size.y;  // the lowest row of blocks may reach below the map
  std::vector<Label> labels;
  for (double mm = scale.from_mm + scale.step_mm; mm < scale.to_mm - 1e-9; mm += scale.step_mm) {
    const Colour ink = scale.share(mm) > 0.62 ? Colour{0.93, 0.93, 0.9} : Colour{0.12, 0.1, 0.08};
    const std::string text = format_number(mm);
    for (Isoline& line : isolines(coarse, mm)) {
      for (Vec2& p : line.points) p = lower_left + cell * p - Vec2{0, cut};
      const double length = length_of(line.points);
      if (length < kShortest) continue;
      page.path(line.points, line.closed, {0.22, ink});
      if (length < kLabelled) continue;
      auto label = label_on(line.points, 2.2 * static_cast<double>(text.size()) + 1, taken);
      if (!label) continue;
      label->text = text;
      taken.push_back(*label);
      labels.push_back(*label);
    }
  }
  return labels;
}

void draw_labels(PdfPages& page, const std::vector<Label>& labels) {
  for (const Label& l : labels) {
    const double a = l.angle_deg * std::numbers::pi / 180;
    page.text(l.place + 0.95 * Vec2{std::sin(a), -std::cos(a)}, l.text,
              {2.6, false, Align::centre, l.angle_deg, kBlack, 0.45});
  }
}

void draw_giornate(PdfPages& page, const LevelMap& map, const SketchFrame& at) {
  for (const auto& g : map.giornate)
    for (const auto& ring : g.rings) page.path(at(ring), true, {0.6, kBlack, {}, 0.4});
  for (const auto& ring : map.wall->chart->border_rings()) page.path(at(ring), true, {0.8});
}

void draw_numbers(PdfPages& page, const LevelMap& map, const SketchFrame& at) {
  for (const auto& g : map.giornate) {
    const Vec2 place = at(g.inside);
    number_in_ring(page, place, fmt::format("{}", g.number), 3.4);
    page.text({place.x, place.y - 7}, format_fixed(g.litres, g.litres < 10 ? 1 : 0) + " L",
              {2.8, true, Align::centre, 0, kBlack, 0.5});
  }
}

void draw_high_spots(PdfPages& page, const LevelMap& map, const SketchFrame& at) {
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
std::vector<Label> marked_places(const LevelMap& map, const SketchFrame& at) {
  std::vector<Label> out;
  for (const auto& g : map.giornate) out.push_back({at(g.inside)}), out.push_back({at(g.inside) - Vec2{0, 6}});
  for (const auto& spot : map.coat->high_spots) out.push_back({at(spot.place)});
  return out;
}

void draw_map(PdfPages& page, const LevelMap& map, const DepthScale& scale, const SketchFrame& at, double dots_per_mm) {
  const ChartBox box = map.wall->chart->box();
  const Vec2 lower_left = at(ChartPoint{0, 0}), size = at.scale() * Vec2{box.width, box.height};
  std::vector<double> depth_mm(map.coat->depth_m);
  for (double& d : depth_mm) d *= 1000;
  const auto dots = [&](double mm) { return std::max(1, static_cast<int>(std::lround(mm * dots_per_mm))); };
  const DepthRaster raster = rasterise(*map.wall->chart, depth_mm, dots(size.x), dots(size.y));
  page.picture(coloured(raster, scale), lower_left, size);
  const auto labels = draw_isolines(page, raster, scale, lower_left, size, marked_places(map, at));
  draw_giornate(page, map, at);
  draw_labels(page, labels);
  draw_high_spots(page, map, at);
  draw_numbers(page, map, at);
}

void draw_head(PdfPages& page, const LevelMap& map, Vec2 size) {
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
  draw_scale_bar(*page, map, at.scale(), {kMargin, kMargin + cautions}, room.x);
  draw_level_legend(*page, map, scale, {size.x - kMargin - kLegend, foot + room.y}, {kLegend, room.y + 6});
  return page->finish();
}

}  // namespace pontata
