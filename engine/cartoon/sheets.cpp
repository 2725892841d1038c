#include "engine/cartoon/sheets.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/base/units.h"
#include "engine/cartoon/pattern_squares.h"
#include "engine/cartoon/seam_labels.h"
#include "engine/cartoon/sheet_frame.h"

namespace pontata {
namespace {

constexpr double kPi = std::numbers::pi;

double distance_to(const std::vector<std::vector<Vec2>>& rims, Vec2 p) {
  double least = 1e300;
  for (const auto& rim : rims)
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const Vec2 a = rim[i], d = rim[(i + 1) % rim.size()] - a;
      const double t = std::clamp(glm::dot(p - a, d) / std::max(glm::dot(d, d), 1e-300), 0.0, 1.0);
      least = std::min(least, glm::distance(p, a + t * d));
    }
  return least;
}

// The giornata's number with an arrow up beside it, in the widest part of the pattern.
struct Badge {
  Vec2 centre{0, 0};  // mm on the pattern
  double size = 0;    // height of the number, mm
};

Badge badge_of(const Pattern& pattern) {
  const Vec2 p = 1000.0 * pattern.flat.flat[pattern.flat.label];
  return {p, std::clamp(0.6 * distance_to(pattern.outline, p), 4.0, 20.0)};
}

// One sheet's view of the pattern: pattern mm to page mm.
class View {
 public:
  View(const Tiling& tiling, const Tile& tile)
      : tiling_(tiling), shift_(Vec2{tiling.margins.left, tiling.margins.bottom} - tile.corner) {}
  Vec2 operator()(Vec2 p) const { return placed(tiling_, p) + shift_; }
  double turn_deg() const { return pontata::turn_deg(tiling_); }
  std::vector<Vec2> operator()(const std::vector<Vec2>& line) const {
    std::vector<Vec2> out;
    for (const Vec2& p : line) out.push_back((*this)(p));
    return out;
  }

 private:
  const Tiling& tiling_;
  Vec2 shift_;
};

// Words centred on a point at an angle.
void centred(Pages& pdf, Vec2 centre, const std::string& words, TextStyle style) {
  const double a = style.angle_deg * kPi / 180;
  style.align = Align::centre;
  pdf.text(centre + Vec2{std::sin(a), -std::cos(a)} * (0.36 * style.size_mm), words, style);
}

void draw_badge(Pages& pdf, const Pattern& pattern, const Badge& badge, const View& view) {
  const Vec2 at = view(badge.centre);
  const std::string number = label_of(*pattern.giornata);
  const TextStyle style{badge.size, true, Align::centre, 0, kBlack, 0.06 * badge.size};
  centred(pdf, at, number, style);
  const Vec2 up = view(badge.centre + Vec2{0, 1}) - at;
  const double aside = 0.5 * pdf.text_width(number, style) + 0.45 * badge.size;
  draw_arrow(pdf, at + Vec2{aside, 0}, up, 1.1 * badge.size, 0.07 * badge.size, true);
}

// Thin lines, each named near where it enters the giornata.
void draw_squares(Pages& pdf, const std::vector<PatternSquareLine>& squares, const View& view) {
  for (const PatternSquareLine& line : squares) pdf.path(view(line.points), false, {0.18, kBlack, {}, 0.22});
  for (const PatternSquareLine& line : squares) {
    const Vec2 from = line.points.front(), way = line.points.back() - from;
    const double length = glm::length(way);
    if (length > 15)
      centred(pdf, view(from + way * (7 / length)), line.name, {3.2, false, Align::centre, 0, kBlack, 0.7});
  }
}

void draw_pattern(Pages& pdf, const Pattern& pattern, const Tiling& tiling, const Tile& tile, ChartPicture* picture,
                  int dpi, const std::vector<PatternSquareLine>& squares, const Badge& badge,
                  const std::vector<SeamLabel>& labels, Progress* progress) {
  const View view(tiling, tile);
  const Vec2 corner{tiling.margins.left, tiling.margins.bottom};
  pdf.clip_rectangle(corner, tiling.window);
  pdf.set_layer(Layer::picture);
  if (picture) draw_sheet_picture(pdf, pattern, *picture, tiling, tile, dpi, progress);
  pdf.set_layer(Layer::marks);
  draw_squares(pdf, squares, view);
  pdf.set_layer(Layer::outline);
  for (const auto& rim : pattern.outline) pdf.path(view(rim), true, {0.4, kBlack, {}, 0.6});
  pdf.set_layer(Layer::marks);
  for (const SeamLabel& l : labels)
    centred(pdf, view(l.centre), l.words,
            {l.size_mm, l.bold, Align::centre, l.angle_deg + view.turn_deg(), kBlack, l.bold ? 0.6 : 0.5});
  draw_badge(pdf, pattern, badge, view);
  pdf.set_layer(Layer::frame);
  pdf.unclip();
}

std::string title_of(const Pattern& p, std::size_t sheet, std::size_t sheets) {
  std::string out = "giornata " + label_of(*p.giornata);
  if (p.parts > 1) out += fmt::format(", part {} of {}", p.part, p.parts);
  return out + fmt::format(" · sheet {} of {}", sheet, sheets);
}

std::string stretch_of(const Flattening& f) {
  if (f.max_strain < 5e-5) return "lies flat without stretching";
  return fmt::format("curved: greatest stretch {} mm in a metre, along the rim {} mm",
                     format_fixed(1000 * f.max_strain, 1), format_fixed(f.misfit_mm, 1));
}

std::vector<std::string> notes_of(const Pattern& p, const SheetTexts& texts) {
  const CartoonGiornata& g = *p.giornata;
  std::vector<std::string> out;
  std::string where = p.wall->name;
  if (!texts.project.empty()) where += (where.empty() ? "" : " · ") + texts.project;
  out.push_back(g.name.empty() ? where : g.name + " · " + where);
  out.push_back(
      fmt::format("{} m² · {} L of mortar", format_fixed(g.measure.area_m2, 3), format_fixed(g.need.mortar_L, 1)));
  out.push_back(stretch_of(p.flat));
  out.push_back(texts.trial ? "trial print: numbers may still change · 1:1, print without scaling, measure the bars"
                            : "1:1, print without scaling, measure the bars");
  return out;
}

}  // namespace

std::vector<Vec2> pattern_corners(const Pattern& pattern) {
  std::vector<Vec2> out;
  for (const Triangle& t : pattern.patch.triangles)
    for (const std::uint32_t v : t) out.push_back(1000.0 * pattern.flat.flat[v]);
  return out;
}

void draw_sheets(Pages& pdf, const Pattern& pattern, const Tiling& tiling, ChartPicture* picture,
                 const Squares* squares, int dpi, const SheetTexts& texts, Progress* progress) {
  const Badge badge = badge_of(pattern);
  const auto labels = seam_labels(pattern, badge.centre, 1.6 * badge.size, turn_deg(tiling));
  const auto lines = squares ? pattern_squares(pattern, *squares) : std::vector<PatternSquareLine>{};
  for (std::size_t i = 0; i < tiling.tiles.size() && !is_cancelled(progress); ++i) {
    pdf.begin_page(tiling.page.x, tiling.page.y);
    draw_pattern(pdf, pattern, tiling, tiling.tiles[i], picture, dpi, lines, badge, labels, progress);
    SheetFrame frame;
    frame.title = title_of(pattern, i + 1, tiling.tiles.size());
    frame.notes = notes_of(pattern, texts);
    if (squares) frame.notes[1] += " · " + words_of(*squares);
    frame.up = placed(tiling, {0, 1});
    frame.up_words = pattern.flat.up_by_height ? "up" : "picture's top";
    for (const auto& rim : pattern.outline) {
      frame.outline.emplace_back();
      for (const Vec2& p : rim) frame.outline.back().push_back(placed(tiling, p));
    }
    draw_frame(pdf, tiling, i, frame);
  }
}

}  // namespace pontata
