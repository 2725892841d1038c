#include "engine/cartoon/heat_picture.h"

#include <array>

#include "engine/cartoon/page_cursor.h"

namespace pontata {

namespace {

constexpr double kFirst = 0.7, kCasing = 0.35;  // mm, width of the first grade's line and what shows white beside it
constexpr double kText = 3, kRow = 6, kSample = 14, kPad = 3;  // mm

Colour colour_of(std::uint32_t rgb) {
  return {((rgb >> 16) & 255) / 255.0, ((rgb >> 8) & 255) / 255.0, (rgb & 255) / 255.0};
}

}  // namespace

Stroke heat_stroke(std::size_t grade) {
  const HeatGrade& g = heat_grades()[grade];
  return {kFirst * g.width, colour_of(g.rgb), {}, kCasing};
}

void draw_heat(const EyeDrawer& draw, std::span<const HeatLine> heat) {
  constexpr std::size_t kPale = 2;  // grades that stand on a dark line, so that they are seen on pale ground
  for (std::size_t grade = 0; grade < kHeatGrades; ++grade)
    for (const bool under : {true, false}) {
      if (under && grade >= kPale) continue;
      Stroke stroke = heat_stroke(grade);
      if (under) stroke.width_mm += 0.5, stroke.colour = {0.25, 0.2, 0.15};
      if (!under && grade < kPale) stroke.casing_mm = 0;
      for (const HeatLine& line : heat)
        if (line.grade == grade) draw.course(line.line, stroke);
    }
}

double draw_heat_legend(Pages& pages, Vec2 lower_left, double width, const std::string& judged_from) {
  const TextStyle style{kText}, bold{kText, true};
  const double room = width - 2 * kPad;
  const auto caveat = wrapped(pages, kFloorCaveat, room, style);
  const std::string from = pages.fitted("seams from " + judged_from + ":", bold, room);
  // What stands where: row and x of each grade.
  std::array<std::pair<int, double>, kHeatGrades> at;
  int row = 0;
  double x = pages.text_width(from, bold) + 4;
  for (std::size_t grade = 0; grade < kHeatGrades; ++grade) {
    const double wide = kSample + 2 + pages.text_width(heat_grades()[grade].words, style);
    if (x > 0 && x + wide > room) ++row, x = 0;
    at[grade] = {row, x};
    x += wide + 6;
  }
  const double height = 2 * kPad + kRow * (row + 1) + kLeading * kText * static_cast<double>(caveat.size());
  pages.fill_rectangle(lower_left, {width, height}, kWhite);
  double y = lower_left.y + height - kPad - kText;
  pages.text({lower_left.x + kPad, y}, from, bold);
  for (std::size_t grade = 0; grade < kHeatGrades; ++grade) {
    const Vec2 place{lower_left.x + kPad + at[grade].second, y - kRow * at[grade].first};
    pages.line(place + Vec2{0, 1}, place + Vec2{kSample, 1}, heat_stroke(grade));
    pages.text(place + Vec2{kSample + 2, 0}, heat_grades()[grade].words, style);
  }
  y -= kRow * (row + 1);
  for (const std::string& line : caveat) {
    pages.text({lower_left.x + kPad, y}, line, style);
    y -= kLeading * kText;
  }
  return height;
}

Result<Image> with_heat_lines(const Image& view, const Camera& camera, std::span<const HeatedWall> walls,
                              const std::string& judged_from) {
  auto pages = PdfPages::create_image(kEyeDots * 25.4);
  if (!pages) return pages.problem();
  const EyeFrame frame{camera, {0, 0}, Vec2(view.width, view.height) / kEyeDots};
  pages->begin_page(frame.size.x, frame.size.y);
  pages->picture(view, {0, 0}, frame.size);
  for (std::size_t k = 0; k < walls.size(); ++k) {
    std::vector<WallRef> others;
    for (std::size_t other = 0; other < walls.size(); ++other)
      if (other != k) others.push_back(walls[other].wall);
    const EyeDrawer draw(*pages, frame, walls[k].wall, others);
    draw_heat(draw, walls[k].heat);
  }
  draw_heat_legend(*pages, {0, 0}, frame.size.x, judged_from);
  return pages->image();
}

}  // namespace pontata
