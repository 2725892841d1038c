#include "engine/cartoon/stretch_map.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/base/units.h"
#include "engine/cartoon/level_legend.h"
#include "engine/cartoon/wall_sketch.h"

namespace pontata {

namespace {

constexpr double kPage = 340;  // mm, the longer side of the sheet
constexpr double kMargin = 11;
constexpr double kLegend = 66;  // width of the column beside the map
constexpr double kHead = 19;    // height of the title above it

struct Step {
  double times;
  const char* text;
  const char* words;
};
constexpr std::array<Step, 14> kSteps{{{0.25, "×0.25", "a quarter as long"},
                                       {0.5, "×0.5", "half as long"},
                                       {0.67, "×0.67", "a third shorter"},
                                       {0.8, "×0.8", "a fifth shorter"},
                                       {0.9, "×0.9", "a tenth shorter"},
                                       {1, "×1", "as in the picture"},
                                       {1.1, "×1.1", "a tenth longer"},
                                       {1.25, "×1.25", "a quarter longer"},
                                       {1.5, "×1.5", "half as long again"},
                                       {2, "×2", "twice as long"},
                                       {3, "×3", "three times as long"},
                                       {5, "×5", "five times as long"},
                                       {10, "×10", "ten times as long"},
                                       {20, "×20", "twenty times and more"}}};
constexpr std::size_t kAsMade = 5;

// The steps that the picture's stretch lies between; colours follow the logarithm. Always from ×1 or less to ×1.1 or
// more, so that a picture that is not stretched is light all over.
struct Scale {
  std::size_t from = kAsMade, to = kAsMade + 1;
  explicit Scale(const StretchReport& report) {
    while (from > 0 && report.least.times < kSteps[from].times * 0.995) --from;
    while (to + 1 < kSteps.size() && report.greatest.times > kSteps[to].times) ++to;
  }
  double share(double times) const {
    return std::log(times / kSteps[from].times) / std::log(kSteps[to].times / kSteps[from].times);
  }
  std::vector<FieldLine> lines() const {
    std::vector<FieldLine> out;
    for (std::size_t k = from + 1; k < to; ++k) out.push_back({kSteps[k].times, kSteps[k].text});
    return out;
  }
  std::vector<FieldLine> ticks() const {
    std::vector<FieldLine> out;
    for (std::size_t k = from; k <= to; ++k)
      out.push_back({kSteps[k].times, fmt::format("{}  {}", kSteps[k].text, kSteps[k].words)});
    return out;
  }
};

std::string times_text(double times) {
  return times > kSteps.back().times ? "more than ×20" : "×" + format_fixed(times, times < 1.995 ? 3 : 2);
}

std::string place_text(ChartPoint p) { return format_fixed(p.u, 2) + ", " + format_fixed(p.v, 2) + " m"; }

void mark(Pages& page, Vec2 place, std::string_view word, bool above) {
  number_in_ring(page, place, above ? "+" : "−", 3);
  page.text({place.x + 3.4, place.y - 1}, word, {2.8, true, Align::left, 0, kBlack, 0.5});
}

void draw_map(Pages& page, const StretchMap& map, const StretchField& field, const Scale& scale,
              const SketchFrame& at) {
  const Vec2 lower_left = at(ChartPoint{0, 0});
  const Vec2 size = at.scale() * field.spacing * Vec2{field.width, field.height};
  const auto share = [&](double times) { return scale.share(times); };
  const DepthRaster raster{field.width, field.height, field.times};
  page.picture(coloured(raster, share), lower_left, size);
  const Vec2 least = at(field.report.least.place), greatest = at(field.report.greatest.place);
  const bool marked = field.report.greatest.times > 1.01 * field.report.least.times;
  std::vector<FieldLabel> taken;
  if (marked) taken = {{least}, {greatest}};
  const auto labels = draw_field_lines(page, raster, scale.lines(), share, lower_left, size, taken);
  for (const auto& ring : map.wall->chart->border_rings()) page.path(at(ring), true, {0.8});
  draw_field_labels(page, labels);
  if (!marked) return;
  mark(page, least, times_text(field.report.least.times), false);
  mark(page, greatest, times_text(field.report.greatest.times), true);
}

void draw_legend(Pages& page, const StretchReport& report, const Scale& scale, Vec2 upper_left, Vec2 size) {
  constexpr double kRows = 9 * kLegendLine;
  page.text({upper_left.x, upper_left.y - 3.4}, "A line of the picture becomes", {3.4, true});
  const double height = std::max(20.0, size.y - kRows - 18);
  Vec2 at{upper_left.x, upper_left.y - 8 - height};
  draw_colour_bar(
      page, scale.ticks(), [&](double times) { return scale.share(times); }, at, height);
  at.y -= 9;
  page.text(at, "along the way it is stretched most", {2.8});
  at.y -= 1.8 * kLegendLine;
  draw_legend_row(page, at, size.x, "its own scale", format_fixed(report.own_mm_per_px, 3) + " mm a pixel");
  draw_legend_row(page, at, size.x, "covers", format_fixed(report.area_m2, 2) + " m²");
  draw_legend_row(page, at, size.x, "of it as made, within a tenth", format_fixed(100 * report.within_tenth, 0) + " %");
  draw_legend_row(page, at, size.x, "− least", times_text(report.least.times));
  draw_legend_row(page, at, size.x, "   at", place_text(report.least.place));
  draw_legend_row(page, at, size.x, "+ most", times_text(report.greatest.times));
  draw_legend_row(page, at, size.x, "   at", place_text(report.greatest.place));
}

void draw_head(Pages& page, const StretchMap& map, Vec2 size) {
  const double y = size.y - kMargin - 5, width = size.x - 2 * kMargin;
  page.text({kMargin, y},
            page.fitted(fmt::format("Stretch of “{}” · wall “{}”", map.picture->name, map.wall_name), {7, true}, width),
            {7, true});
  const std::string what =
      map.project + " · how much longer things become on the wall than in the picture, seen from the painted side";
  page.text({kMargin, y - 6.5}, page.fitted(what, {3.2}, width), {3.2});
}

}  // namespace

Result<StretchReport> write_stretch_map(const StretchMap& map, const std::string& png_path, int width, int height,
                                        Progress* progress) {
  const double dots_per_mm = std::max(width, height) / kPage;
  const Vec2 size = Vec2{width, height} / dots_per_mm;
  const double foot = kMargin + 9;
  const Vec2 room{size.x - 2 * kMargin - kLegend - 10, size.y - foot - kMargin - kHead};
  const SketchFrame at(*map.wall, {kMargin, foot}, room);
  const ChartBox box = map.wall->chart->box();
  const int side =
      std::max(1, static_cast<int>(std::lround(std::max(box.width, box.height) * at.scale() * dots_per_mm)));
  auto field = stretch_field(map.wall, *map.picture, map.others, side, progress);
  if (!field) return field.problem();
  auto page = PdfPages::create_png(png_path, dots_per_mm * 25.4);
  if (!page) return page.problem();
  page->begin_page(size.x, size.y);
  const Scale scale(field->report);
  draw_head(*page, map, size);
  draw_map(*page, map, *field, scale, at);
  draw_scale_bar(*page, *map.wall->chart, at.scale(), {kMargin, kMargin}, room.x);
  draw_legend(*page, field->report, scale, {size.x - kMargin - kLegend, foot + room.y}, {kLegend, room.y + 6});
  if (const auto done = page->finish(); !done) return done.problem();
  return field->report;
}

}  // namespace pontata
