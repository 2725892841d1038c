#include "engine/cartoon/record_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/base/units.h"
#include "engine/cartoon/page_cursor.h"
#include "engine/cartoon/sheet_frame.h"
#include "engine/cartoon/wall_sketch.h"

namespace pontata {

namespace {

constexpr double kWidth = 420, kHeight = 297, kMargin = 12;  // A3, ISO 216, mm
constexpr double kLegend = 92, kHead = 20;
constexpr double kArrow = 6, kBetween = 60, kLeastStretch = 4;  // mm on the page
constexpr Colour kPainted{0.93, 0.90, 0.82}, kPlanned{1, 1, 1}, kPlannedLine{0.45, 0.45, 0.45};

void draw_title(Pages& pages, const std::string& project, const RecordWall& wall, const std::string& words) {
  const double width = kWidth - 2 * kMargin;
  pages.text({kMargin, kHeight - kMargin - 7},
             pages.fitted(fmt::format("Giornate of wall “{}”", wall.name), {7, true}, width), {7, true});
  pages.text({kMargin, kHeight - kMargin - 13}, pages.fitted(project + " · " + words, {3.4}, width), {3.4});
}

void draw_patches(Pages& pages, const RecordWall& wall, const SketchFrame& at) {
  pages.set_layer(Layer::picture);
  for (const RecordPatch& patch : wall.patches) {
    std::vector<std::vector<Vec2>> rings;
    for (const Ring& ring : patch.rings) rings.push_back(at(ring));
    pages.fill(rings, patch.painted ? kPainted : kPlanned);
  }
  pages.set_layer(Layer::lines);
  for (const RecordPatch& patch : wall.patches)
    for (const Ring& ring : patch.planned) pages.path(at(ring), true, {0.3, kPlannedLine, {2, 1.2}});
  pages.set_layer(Layer::outline);
  for (const bool painted : {false, true})
    for (const RecordPatch& patch : wall.patches)
      if (patch.painted == painted)
        for (const Ring& ring : patch.rings) pages.path(at(ring), true, {painted ? 0.5 : 0.2});
  for (const Ring& ring : wall.wall->chart->border_rings()) pages.path(at(ring), true, {0.8});
}

struct OnCourse {
  Vec2 place{0, 0}, along{1, 0};
};
OnCourse at_length(const std::vector<Vec2>& course, double length) {
  for (std::size_t i = 0; i + 1 < course.size(); ++i) {
    const double step = glm::distance(course[i], course[i + 1]);
    if (step <= 0) continue;
    if (length <= step || i + 2 == course.size()) {
      const Vec2 along = (course[i + 1] - course[i]) / step;
      return {course[i] + along * std::min(length, step), along};
    }
    length -= step;
  }
  return {course.front(), {1, 0}};
}

// An arrow every 60 mm at most, from the earlier to the later; a dot where neither is known to be earlier.
void draw_seam(Pages& pages, const RecordSeam& seam, const SketchFrame& at) {
  std::vector<Vec2> course;
  for (const ChartPoint p : seam.course) course.push_back(at(p));
  double length = 0;
  for (std::size_t i = 0; i + 1 < course.size(); ++i) length += glm::distance(course[i], course[i + 1]);
  if (length < kLeastStretch) return;
  const int arrows = std::max(1, static_cast<int>(std::lround(length / kBetween)));
  for (int k = 0; k < arrows; ++k) {
    const auto [place, along] = at_length(course, length * (k + 0.5) / arrows);
    if (seam.same_day) {
      const std::array dot{place};
      pages.dots(dot, 1.6, kBlack);
    } else {
      draw_arrow(pages, place, {along.y, -along.x}, kArrow, 0.4, true);
    }
  }
}

// Room for the label's lines, mm: from the patch's own box on the page.
double room_of(const RecordPatch& patch, const SketchFrame& at) {
  double low = 1e9, high = -1e9, left = 1e9, right = -1e9;
  for (const Ring& ring : patch.rings)
    for (const Vec2 p : at(ring))
      low = std::min(low, p.y), high = std::max(high, p.y), left = std::min(left, p.x), right = std::max(right, p.x);
  return std::min(high - low, 0.6 * (right - left));
}

void draw_label(Pages& pages, const RecordPatch& patch, const SketchFrame& at) {
  const double room = room_of(patch, at);
  const double size = std::clamp(room / 6, 2.0, 4.2);
  Vec2 place = at(patch.inside);
  number_in_ring(pages, place, patch.label, size, patch.painted ? kPainted : kPlanned);
  if (room < 14) return;  // the list tells them
  place.y -= 1.3 * size;
  for (const std::string& date : patch.dates) {
    place.y -= 3;
    pages.text(place, date, {2.4, false, Align::centre, 0, kBlack, 0.4});
  }
}

void draw_scale_bar(Pages& pages, Vec2 at, double one_to) {
  double metres = 0.1;
  for (const double m : {0.2, 0.5, 1.0, 2.0, 5.0, 10.0})
    if (m * 1000 / one_to <= kLegend) metres = m;
  const double length = metres * 1000 / one_to;
  pages.fill_rectangle(at, {length / 2, 1.6}, kBlack);
  pages.rectangle(at, {length, 1.6}, {0.25});
  pages.text({at.x, at.y + 3}, "0", {2.6});
  pages.text({at.x + length, at.y + 3}, format_number(metres) + " m", {2.6, false, Align::right});
}

std::string flat_words(const ChartedWall& wall) {
  const auto stretch = wall.chart->stretch();
  const double off = 100 * std::max(stretch.greatest - 1, 1 - stretch.least);
  if (off < 0.05) return "The wall laid flat; lengths are true.";
  return fmt::format("The wall laid flat: single lengths may be up to {:.0f} % off; areas in the list are true.",
                     std::max(1.0, std::ceil(off)));
}

void draw_legend(Pages& pages, const RecordWall& wall, double x, double one_to) {
  PageCursor cursor(pages, kHeight - kMargin - kHead);
  const double right = x + kLegend, line = x + 14;
  const auto row = [&](auto&& sign, const std::string& words) {
    cursor.skip(2.5);
    sign(cursor.y() - 2.4);
    cursor.paragraph(words, line + 3, right, {3});
  };
  const auto stroke = [&](const Stroke& s) { return [&, s](double y) { pages.line({x, y}, {line, y}, s); }; };
  row([&](double y) { pages.fill_rectangle({x, y - 1.5}, {14, 4}, kPainted); }, "painted in fresh plaster");
  row([&](double y) { pages.rectangle({x, y - 1.5}, {14, 4}, {0.2}); }, "not painted yet");
  row(stroke({0.5}), "edge of a giornata as it was really cut");
  row(stroke({0.3, kPlannedLine, {2, 1.2}}), "edge as it was planned, where it was cut otherwise");
  row(
      [&](double y) {
        draw_arrow(pages, {x + 7, y}, {1, 0}, kArrow, 0.4, false);
      },
      "from the earlier to the later giornata: the edge of the earlier was cut at a slant, its foot outward on the "
      "arriccio, and the later plaster lies pressed against it");
  row(
      [&](double y) {
        const std::array dot{Vec2{x + 7, y}};
        pages.dots(dot, 1.6, kBlack);
      },
      "painted on one day, or not known which came first");
  cursor.skip(4);
  cursor.paragraph("Dates are as written by the painter.", x, right, {3, true});
  cursor.paragraph(flat_words(*wall.wall), x, right, {3});
  cursor.skip(9);
  cursor.paragraph(fmt::format("Scale 1 : {}", format_number(one_to)), x, right, {3});
  cursor.skip(10);
  draw_scale_bar(pages, {x, cursor.y()}, one_to);
}

void draw_plan_page(Pages& pages, const std::string& project, const RecordWall& wall) {
  const ChartBox box = wall.wall->chart->box();
  const Vec2 corner{kMargin, kMargin}, room{kWidth - 2 * kMargin - kLegend - 10, kHeight - 2 * kMargin - kHead};
  const double one_to = record_scale(box, room);
  const Vec2 size = Vec2{box.width, box.height} * (1000 / one_to);
  pages.begin_page(kWidth, kHeight);
  draw_title(pages, project, wall, "as they were really cut, with the order in which edges lie over each other");
  const SketchFrame at(*wall.wall, corner + 0.5 * (room - size), size);
  draw_patches(pages, wall, at);
  pages.set_layer(Layer::marks);
  for (const RecordSeam& seam : wall.seams) draw_seam(pages, seam, at);
  for (const RecordPatch& patch : wall.patches) draw_label(pages, patch, at);
  pages.set_layer(Layer::frame);
  draw_legend(pages, wall, kWidth - kMargin - kLegend, one_to);
}

void draw_list_head(Pages& pages, double& y) {
  pages.text({kMargin, y}, "no.", {3, true});
  pages.text({kMargin + 14, y}, "giornata", {3, true});
  pages.text({kMargin + 96, y}, "m²", {3, true, Align::right});
  pages.text({kMargin + 102, y}, "days", {3, true});
  pages.text({kMargin + 190, y}, "what else is told", {3, true});
  y -= 1.6;
  pages.line({kMargin, y}, {kWidth - kMargin, y}, {0.2, kGrey});
}

void draw_list_pages(Pages& pages, const std::string& project, const RecordWall& wall) {
  double y = 0;
  for (const RecordPatch& patch : wall.patches) {
    if (y < kMargin + 8) {
      pages.begin_page(kWidth, kHeight);
      draw_title(pages, project, wall, "dates are as written by the painter");
      y = kHeight - kMargin - kHead - 2;
      draw_list_head(pages, y);
    }
    y -= 5;
    pages.text({kMargin, y}, patch.label, {3, true});
    pages.text({kMargin + 14, y}, pages.fitted(patch.name, {3}, 66), {3});
    pages.text({kMargin + 96, y}, format_fixed(patch.area_m2, 2), {3, false, Align::right});
    const std::string days = patch.dates.empty() ? "not painted yet" : fmt::format("{}", fmt::join(patch.dates, ", "));
    pages.text({kMargin + 102, y}, pages.fitted(days, {3}, 84), {3});
    pages.text({kMargin + 190, y}, pages.fitted(patch.words, {3}, kWidth - 2 * kMargin - 190), {3});
  }
}

}  // namespace

double record_scale(ChartBox box, Vec2 room_mm) {
  const double least = 1000 * std::max(box.width / room_mm.x, box.height / room_mm.y);
  for (double decade = 1;; decade *= 10)
    for (const double step : {1.0, 2.0, 2.5, 5.0})
      if (step * decade >= least) return step * decade;
}

void draw_record(Pages& pages, const std::string& project, const RecordWall& wall) {
  draw_plan_page(pages, project, wall);
  draw_list_pages(pages, project, wall);
}

Outcome write_record(const std::string& project, const std::vector<RecordWall>& walls, const std::string& pdf_path) {
  auto pages = PdfPages::create(pdf_path, "Giornate as they were painted");
  if (!pages) return pages.problem();
  for (const RecordWall& wall : walls) draw_record(*pages, project, wall);
  return pages->finish();
}

}  // namespace pontata
