#include "engine/cartoon/sheets.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/base/units.h"
#include "engine/cartoon/line_walk.h"
#include "engine/cartoon/pattern_squares.h"
#include "engine/cartoon/prick_marks.h"
#include "engine/cartoon/seam_labels.h"
#include "engine/cartoon/sheet_frame.h"
#include "engine/cartoon/sheet_marks.h"
#include "engine/cartoon/sheet_view.h"

namespace pontata {
namespace {

// The giornata's number with an arrow up beside it, in the widest part of the pattern.
struct Badge {
  Vec2 centre{0, 0};  // mm on the pattern
  double size = 0;    // height of the number, mm
};

Badge badge_of(const Pattern& pattern) {
  const Vec2 p = 1000.0 * pattern.flat.flat[pattern.flat.label];
  return {p, std::clamp(0.6 * distance_to_rims(pattern.outline, p), 4.0, 20.0)};
}

void draw_badge(Pages& pdf, const Pattern& pattern, const Badge& badge, const SheetView& view) {
  const Vec2 at = view(badge.centre);
  const std::string number = label_of(*pattern.giornata);
  const TextStyle style{badge.size, true, Align::centre, 0, kBlack, 0.06 * badge.size};
  centred(pdf, at, number, style);
  const Vec2 up = view(badge.centre + Vec2{0, 1}) - at;
  const double aside = 0.5 * pdf.text_width(number, style) + 0.45 * badge.size;
  draw_arrow(pdf, at + Vec2{aside, 0}, up, 1.1 * badge.size, 0.07 * badge.size, true);
}

// Thin lines, each named near where it enters the giornata.
void draw_squares(Pages& pdf, const std::vector<PatternSquareLine>& squares, const SheetView& view) {
  for (const PatternSquareLine& line : squares) pdf.path(view(line.points), false, {0.18, kBlack, {}, 0.22});
  for (const PatternSquareLine& line : squares) {
    const Vec2 from = line.points.front(), way = line.points.back() - from;
    const double length = glm::length(way);
    if (length > 15)
      centred(pdf, view(from + way * (7 / length)), line.name, {3.2, false, Align::centre, 0, kBlack, 0.7});
  }
}

// Everything that stands on a pattern, whatever sheet shows it.
struct Content {
  const Pattern& pattern;
  const SheetTexts& texts;
  Badge badge;
  std::vector<std::vector<Vec2>> contours;
  std::vector<Vec2> pricks;
  std::vector<PatternSquareLine> squares;
  SheetMarks marks;
  std::vector<SeamLabel> labels;
};

// On a trimmed copy nothing stands beyond the outline but the word that says so.
void trim(std::vector<SeamLabel>& labels) {
  for (SeamLabel& l : labels)
    if (l.outside) l.words = "trim", l.bold = false, l.size_mm = 3.2, l.angle_deg = l.along_deg;
}

Content content_of(const Pattern& pattern, const Tiling& tiling, const Squares* squares, const SheetTexts& texts) {
  Content out{pattern, texts, badge_of(pattern), {}, {}, {}, {}, {}};
  const PatternCarrier carrier(pattern);
  const auto contours = pattern_contours(pattern, carrier);
  for (const CarriedLine& line : contours) out.contours.push_back(shape_of(line));
  if (texts.copy == SheetCopy::painting && texts.print.prick)
    out.pricks = prick_marks(contours, pattern.wall->zones, pattern.outline, texts.print);
  if (squares) out.squares = pattern_squares(pattern, *squares);
  const double turn = turn_deg(tiling);
  PageRoom room;
  room.take({{out.badge.centre, 1.6 * out.badge.size}});
  const bool trimmed = texts.copy == SheetCopy::incision;
  const Registration* registration = texts.registers ? &texts.registers->of(*pattern.wall, *pattern.giornata) : nullptr;
  const auto* lines = texts.registers && !squares ? &texts.registers->lines(*pattern.wall) : nullptr;
  out.marks = place_marks(pattern, carrier, registration, lines, trimmed, room, turn);
  out.labels = seam_labels(pattern, room, turn);
  if (trimmed) trim(out.labels);
  return out;
}

// Contours: light under the picture's darks, dark over its lights; heavier where they are to be traced.
void draw_contours(Pages& pages, const Content& content, const SheetView& view) {
  const bool traced = content.texts.copy != SheetCopy::painting;
  const Stroke stroke{traced ? 0.45 : 0.2, kBlack, {}, traced ? 0.0 : 0.2};
  for (const auto& line : content.contours) pages.path(view(line), false, stroke);
}

void draw_pricks(Pages& pages, const Content& content, bool over_picture, const SheetView& view) {
  if (content.pricks.empty()) return;
  const std::vector<Vec2> dots = view(content.pricks);
  if (over_picture) pages.dots(dots, 1.3, kWhite);
  pages.dots(dots, 0.8, kBlack);
}

void draw_outline(Pages& pages, const Content& content, const SheetView& view) {
  Stroke stroke{0.4, kBlack, {}, 0.6};
  if (content.texts.copy == SheetCopy::sinopia) stroke.dash_mm = {5, 2};
  for (const auto& rim : content.pattern.outline) pages.path(view(rim), true, stroke);
}

void draw_labels(Pages& pages, const Content& content, const SheetView& view) {
  for (const SeamLabel& l : content.labels)
    centred(pages, view(l.centre), l.words,
            {l.size_mm, l.bold, Align::centre, l.angle_deg + view.turn_deg(), kBlack, l.bold ? 0.6 : 0.5});
  draw_badge(pages, content.pattern, content.badge, view);
}

void draw_pattern(Pages& pages, const Content& content, const Tiling& tiling, const Tile& tile, ChartPicture* picture,
                  int dpi, Progress* progress) {
  const SheetView view(tiling, tile);
  const Vec2 corner{tiling.margins.left, tiling.margins.bottom};
  const auto within = [&](Layer layer, const auto& draw) {
    pages.set_layer(layer);
    pages.clip_rectangle(corner, tiling.window);
    draw();
    pages.unclip();
  };
  if (picture)
    within(Layer::picture, [&] { draw_sheet_picture(pages, content.pattern, *picture, tiling, tile, dpi, progress); });
  within(Layer::lines, [&] { draw_contours(pages, content, view); });
  within(Layer::dots, [&] { draw_pricks(pages, content, picture != nullptr, view); });
  within(Layer::marks, [&] { draw_squares(pages, content.squares, view); });
  within(Layer::outline, [&] { draw_outline(pages, content, view); });
  within(Layer::cuts, [&] { draw_cuts(pages, content.pattern, content.marks, view); });
  within(Layer::marks, [&] {
    draw_marks(pages, content.marks, view);
    draw_labels(pages, content, view);
  });
  pages.set_layer(Layer::frame);
}

std::string title_of(const Pattern& p, const SheetTexts& texts, std::size_t sheet, std::size_t sheets) {
  std::string out = "giornata " + label_of(*p.giornata);
  if (texts.copy == SheetCopy::incision) out = "incision · " + out;
  if (texts.copy == SheetCopy::sinopia) out = fmt::format("sinopia, pontata {} · ", p.giornata->day.pontata) + out;
  if (texts.print.mirrored) out = "mirrored · " + out;
  if (p.parts > 1) out += fmt::format(", part {} of {}", p.part, p.parts);
  return out + fmt::format(" · sheet {} of {}", sheet, sheets);
}

std::string stretch_of(const Flattening& f) {
  if (f.max_strain < 5e-5) return "lies flat without stretching";
  return fmt::format("curved: its rim is true to {} mm, straight lines within it to {} mm",
                     format_fixed(f.misfit_mm, 1), format_fixed(f.worst_pair_mm, 1));
}

std::vector<std::string> notes_of(const Pattern& p, const Squares* squares, const SheetTexts& texts) {
  const CartoonGiornata& g = *p.giornata;
  std::vector<std::string> out;
  std::string where = p.wall->name;
  if (!texts.project.empty()) where += (where.empty() ? "" : " · ") + texts.project;
  out.push_back(g.name.empty() ? where : g.name + " · " + where);
  out.push_back(
      fmt::format("{} m² · {} L of mortar", format_fixed(g.measure.area_m2, 3), format_fixed(g.need.mortar_L, 1)));
  if (squares) out.back() += " · " + words_of(*squares);
  out.push_back(stretch_of(p.flat));
  if (!p.cuts.empty())
    out.back() += fmt::format(" · {} {} to cut and close", p.cuts.size(), p.cuts.size() == 1 ? "line" : "lines");
  out.push_back(texts.trial ? "trial print: numbers may still change · 1:1, print without scaling, measure the bars"
                            : "1:1, print without scaling, measure the bars");
  if (texts.print.mirrored) out.back() = "for tracing from behind · " + out.back();
  return out;
}

}  // namespace

std::vector<Vec2> pattern_corners(const Pattern& pattern) {
  std::vector<Vec2> out;
  for (const Triangle& t : pattern.patch.triangles)
    for (const std::uint32_t v : t) out.push_back(1000.0 * pattern.flat.flat[v]);
  return out;
}

void draw_sheets(Pages& pages, const Pattern& pattern, const Tiling& tiling, ChartPicture* picture,
                 const Squares* squares, int dpi, const SheetTexts& texts, Progress* progress) {
  std::optional<Content> content;  // made for the first sheet that is wanted
  if (texts.copy != SheetCopy::painting || texts.print.picture == PrintedPicture::contours) picture = nullptr;
  for (std::size_t i = 0; i < tiling.tiles.size() && !is_cancelled(progress); ++i) {
    pages.begin_page(tiling.page.x, tiling.page.y);
    if (!pages.wanted()) continue;
    if (!content) content.emplace(content_of(pattern, tiling, squares, texts));
    draw_pattern(pages, *content, tiling, tiling.tiles[i], picture, dpi, progress);
    SheetFrame frame;
    frame.title = title_of(pattern, texts, i + 1, tiling.tiles.size());
    frame.notes = notes_of(pattern, squares, texts);
    frame.up = placed(tiling, {0, 1});
    frame.up_words = pattern.flat.up_by_height ? "up" : "picture's top";
    for (const auto& rim : pattern.outline) {
      frame.outline.emplace_back();
      for (const Vec2& p : rim) frame.outline.back().push_back(placed(tiling, p));
    }
    draw_frame(pages, tiling, i, frame);
  }
}

}  // namespace pontata
