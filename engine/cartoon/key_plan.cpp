#include "engine/cartoon/key_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/cartoon/page.h"
#include "engine/cartoon/pattern_squares.h"
#include "engine/cartoon/plan_eye.h"
#include "engine/cartoon/wall_sketch.h"

namespace pontata {

namespace {

constexpr double kWidth = 420, kHeight = 297, kMargin = 12;  // A3 landscape, ISO 216, mm
constexpr double kListWidth = 112;

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

// Thin lines with dots, their signs at both ends.
void draw_snapped(Pages& pdf, const std::vector<SnappedLine>& lines, const SketchFrame& at) {
  for (const SnappedLine& line : lines)
    for (const auto& piece : line.pieces) {
      std::vector<Vec2> points;
      for (const ChartPoint& p : piece) points.push_back(at(p));
      pdf.path(points, false, {0.15, {0.2, 0.2, 0.2}, {4, 1, 0.6, 1}});
      if (points.size() < 2 || glm::distance(points.front(), points.back()) < 6) continue;
      const Vec2 end = line.kind == SnappedLine::Kind::plumb ? points.front() + Vec2{0, 1} : points.front();
      pdf.text(end + Vec2{0.6, 0.5}, line.sign, {2.2, false, Align::left, 0, kBlack, 0.4});
    }
}

void draw_groups(Pages& pdf, const CartoonWall& wall, const PlanGroups& groups, const SketchFrame& at) {
  for (const auto& g : wall.giornate) {
    std::vector<std::vector<Vec2>> rings;
    for (const auto& ring : g.rings) rings.push_back(at(ring));
    const PlanGroup& group = groups.of(g);
    if (!wall.draped) pdf.fill(rings, group.tint);
    hatch(pdf, rings, group.angle_deg, group.gap_mm, {wall.draped ? 0.2 : 0.12, group.ink});
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

void draw_title(Pages& pdf, const std::string& title, const std::string& words) {
  pdf.text({kMargin, kHeight - kMargin - 7}, pdf.fitted(title, {7, true}, kWidth - 2 * kMargin), {7, true});
  pdf.text({kMargin, kHeight - kMargin - 13}, pdf.fitted(words, {3.4}, kWidth - 2 * kMargin), {3.4});
}

void draw_wall_pages(Pages& pdf, const CartoonInput& input, const CartoonWall& wall, const PlanGroups& groups,
                     const std::vector<SnappedLine>& lines) {
  for (std::size_t from = 0; from < wall.giornate.size();) {
    pdf.begin_page(kWidth, kHeight);
    draw_title(pdf, fmt::format("Key plan · wall “{}”", wall.name),
               fmt::format("{} · {} giornate in working order · the wall laid flat, not to scale", input.project,
                           wall.giornate.size()));
    const double width = kWidth - 2 * kMargin - kListWidth - 10;
    const double foot = kMargin + 4 + draw_legend(pdf, groups.on(wall), {kMargin, kMargin - 2}, width);
    draw_plan(pdf, wall, groups, &lines, {kMargin, foot}, {width, kHeight - kMargin - 18 - foot});
    from = list(pdf, wall, from);
  }
}

void draw_line_pages(Pages& pdf, const CartoonWall& wall, const std::vector<SnappedLine>& lines) {
  for (std::size_t from = 0; from < lines.size();) {
    pdf.begin_page(kWidth, kHeight);
    draw_title(pdf, fmt::format("Lines to snap · wall “{}”", wall.name),
               "on the bare arriccio, before the first giornata; sheets are hung by tape from these");
    from = list_lines(pdf, lines, from, {kMargin, kHeight - kMargin - 22}, kWidth - 2 * kMargin, kMargin);
  }
}

Outcome draw_eye_page(Pages& pdf, const CartoonInput& input, const PlanGroups& groups, Progress* progress) {
  pdf.begin_page(kWidth, kHeight);
  const double width = kWidth - 2 * kMargin;
  const double foot = kMargin + 8 + draw_legend(pdf, groups.all(), {kMargin, kMargin - 2}, width);
  const Vec2 corner{kMargin, foot}, size{width, kHeight - kMargin - 18 - foot};
  const auto unseen = draw_plan_from(pdf, input, groups, *input.plan.eye, corner, size, progress);
  if (!unseen) return unseen.problem();
  const Vec3 at = input.plan.eye->at;
  draw_title(pdf, "Key plan · as seen",
             fmt::format("{} · from {}, {}, {} m in the building", input.project, format_fixed(at.x, 2),
                         format_fixed(at.y, 2), format_fixed(at.z, 2)));
  pdf.text({kMargin, foot - 5}, pdf.fitted(unseen_words(*unseen), {3}, width), {3});
  return Done{};
}

}  // namespace

void draw_plan(Pages& pdf, const CartoonWall& wall, const PlanGroups& groups, const std::vector<SnappedLine>* lines,
               Vec2 lower_left, Vec2 size) {
  const SketchFrame at(*wall.wall, lower_left, size);
  draw_wall_ground(pdf, *wall.wall, wall.draped, at);
  draw_groups(pdf, wall, groups, at);
  draw_squares(pdf, wall, at);
  if (lines && !(wall.squaring_m > 0)) draw_snapped(pdf, *lines, at);
  for (const auto& g : wall.giornate)
    for (const auto& ring : g.rings) pdf.path(at(ring), true, {0.45, kBlack, {}, 0.35});
  for (const auto& ring : wall.wall->chart->border_rings()) pdf.path(at(ring), true, {0.7});
  const double size_mm = std::clamp(size.y / 55, 2.4, 4.6);
  for (const auto& g : wall.giornate)
    number_in_ring(pdf, at(g.measure.inside), label_of(g), size_mm, groups.of(g).tint);
}

double draw_legend(Pages& pdf, const std::vector<const PlanGroup*>& shown, Vec2 lower_left, double width) {
  constexpr double kRow = 8;
  double widest = 24;
  for (const PlanGroup* group : shown) widest = std::max(widest, pdf.text_width(group->words, {3}) + 17);
  const auto columns = static_cast<std::size_t>(std::max(1.0, std::floor(width / widest)));
  const std::size_t rows = (shown.size() + columns - 1) / columns;
  for (std::size_t i = 0; i < shown.size(); ++i) {
    const double x = lower_left.x + widest * static_cast<double>(i % columns),
                 y = lower_left.y + kRow * static_cast<double>(rows - 1 - i / columns);
    const std::vector<std::vector<Vec2>> box{{{x, y}, {x + 10, y}, {x + 10, y + 6}, {x, y + 6}}};
    pdf.fill(box, shown[i]->tint);
    hatch(pdf, box, shown[i]->angle_deg, shown[i]->gap_mm * 0.6, {0.15, shown[i]->ink});
    pdf.path(box[0], true, {0.25});
    pdf.text({x + 12, y + 1.8}, shown[i]->words, {3});
  }
  return kRow * static_cast<double>(rows);
}

std::size_t list_lines(Pages& pdf, const std::vector<SnappedLine>& lines, std::size_t from, Vec2 upper_left,
                       double width, double floor) {
  constexpr double kNames = 48;
  double y = upper_left.y;
  for (; from < lines.size() && y > floor; ++from, y -= 5.4) {
    pdf.text({upper_left.x, y}, pdf.fitted(lines[from].name, {3.2, true}, kNames - 2), {3.2, true});
    pdf.text({upper_left.x + kNames, y}, pdf.fitted(lines[from].where, {3.2}, width - kNames), {3.2});
  }
  return from;
}

std::string unseen_words(const std::vector<std::string>& unseen) {
  if (unseen.empty()) return "";
  return fmt::format("not seen from here: giornata {}", fmt::join(unseen, ", "));
}

Outcome write_key_plan(const CartoonInput& input, Registers& registers, const std::string& pdf_path,
                       Progress* progress) {
  auto pdf = PdfPages::create(pdf_path, "Key plan · " + input.project);
  if (!pdf) return pdf.problem();
  const PlanGroups groups(input);
  for (const auto& wall : input.walls) {
    if (is_cancelled(progress)) return Problem{"stopped", "", ""};
    if (wall.giornate.empty()) continue;
    draw_wall_pages(*pdf, input, wall, groups, registers.lines(wall));
    draw_line_pages(*pdf, wall, registers.lines(wall));
  }
  if (input.plan.eye)
    if (const auto drawn = draw_eye_page(*pdf, input, groups, progress); !drawn) return drawn;
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
  const PlanGroups groups(input);
  png->begin_page(std::max(width, 60.0), kPlanHeight + 34);
  double x = kGap;
  for (const auto* wall : walls) {
    const ChartBox box = wall->wall->chart->box();
    const double w = std::min(kPlanHeight * box.width / box.height, 420.0);
    png->text({x, kPlanHeight + 24},
              png->fitted(fmt::format("{} · {} giornate", wall->name, wall->giornate.size()), {5, true}, w), {5, true});
    draw_plan(*png, *wall, groups, nullptr, {x, 22}, {w, kPlanHeight - 4});
    draw_legend(*png, groups.on(*wall), {x, 3}, w + kGap);
    x += w + kGap;
  }
  return png->finish();
}

}  // namespace pontata
