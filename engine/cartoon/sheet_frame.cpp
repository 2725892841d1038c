#include "engine/cartoon/sheet_frame.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace pontata {
namespace {

constexpr double kMap = 26;  // mm, side of the map's square

// Which neighbouring sheets there are.
struct Neighbours {
  bool left = false, right = false, above = false, below = false;
};

Neighbours neighbours_of(const Tiling& t, const Tile& tile) {
  const auto there = [&](int column, int row) {
    return std::any_of(t.tiles.begin(), t.tiles.end(),
                       [&](const Tile& o) { return o.column == column && o.row == row; });
  };
  return {there(tile.column - 1, tile.row), there(tile.column + 1, tile.row), there(tile.column, tile.row - 1),
          there(tile.column, tile.row + 1)};
}

struct Window {
  double left, right, bottom, top;
};
Window window_of(const Tiling& t) {
  return {t.margins.left, t.margins.left + t.window.x, t.margins.bottom, t.margins.bottom + t.window.y};
}

// Each sheet is laid over the one on its left and the one above it: cut along its own left and upper edge, up to the
// glue line of the other.
void draw_joints(Pages& pdf, const Tiling& t, const Neighbours& n) {
  const Window w = window_of(t);
  const Stroke cut{0.25, kBlack, {4, 1.5}, 0.3}, glue{0.25, kGrey, {1, 1}, 0.3};
  const TextStyle small{2.3, false, Align::left, 0, kBlack, 0.4};
  TextStyle upright = small;
  upright.angle_deg = 90;
  if (n.left) {
    pdf.line({w.left, w.bottom}, {w.left, w.top}, cut);
    pdf.text({w.left - 1, w.bottom + 106}, "cut here", upright);
  }
  if (n.above) {
    pdf.line({w.left, w.top}, {w.right, w.top}, cut);
    pdf.text({w.left + t.overlap + 8, w.top + 1}, "cut here", small);
  }
  if (n.right) {
    pdf.line({w.right - t.overlap, w.bottom}, {w.right - t.overlap, w.top}, glue);
    pdf.text({w.right + 3.3, w.bottom + t.overlap + 8}, "the next sheet is glued on, up to the dotted line", upright);
  }
  if (n.below) {
    pdf.line({w.left, w.bottom + t.overlap}, {w.right, w.bottom + t.overlap}, glue);
    pdf.text({w.left + t.overlap + 8, w.bottom - 3}, "the sheet below is glued on, up to the dotted line", small);
  }
}

void draw_cross(Pages& pdf, Vec2 at) {
  constexpr double kArm = 4;
  const Stroke stroke{0.2, kBlack, {}, 0.3};
  pdf.line(at - Vec2{kArm, 0}, at + Vec2{kArm, 0}, stroke);
  pdf.line(at - Vec2{0, kArm}, at + Vec2{0, kArm}, stroke);
}

// At the four corners of each overlapping strip, so the sheet across shows the same four.
void draw_crosses(Pages& pdf, const Tiling& t, const Neighbours& n) {
  const Window w = window_of(t);
  std::vector<Vec2> at;
  const auto add = [&](double x, double y) {
    const Vec2 p{x, y};
    if (std::find(at.begin(), at.end(), p) == at.end()) at.push_back(p);
  };
  for (const double y : {w.bottom, w.top}) {
    if (n.left) add(w.left, y), add(w.left + t.overlap, y);
    if (n.right) add(w.right - t.overlap, y), add(w.right, y);
  }
  for (const double x : {w.left, w.right}) {
    if (n.above) add(x, w.top), add(x, w.top - t.overlap);
    if (n.below) add(x, w.bottom + t.overlap), add(x, w.bottom);
  }
  for (const Vec2& p : at) draw_cross(pdf, p);
}

void draw_bars(Pages& pdf, const Tiling& t) {
  const Window w = window_of(t);
  const Stroke stroke{0.3};
  const double x = 6, y = 8;
  pdf.line({w.left, y}, {w.left + kCheckBar, y}, stroke);
  pdf.line({x, w.bottom}, {x, w.bottom + kCheckBar}, stroke);
  for (const double end : {0.0, kCheckBar}) {
    pdf.line({w.left + end, y - 1.5}, {w.left + end, y + 1.5}, {0.2});
    pdf.line({x - 1.5, w.bottom + end}, {x + 1.5, w.bottom + end}, {0.2});
  }
  const TextStyle style{2.8, false, Align::centre};
  pdf.text({w.left + kCheckBar / 2, y + 1}, "100 mm", style);
  TextStyle upright = style;
  upright.angle_deg = 90;
  pdf.text({x - 1, w.bottom + kCheckBar / 2}, "100 mm", upright);
}

void draw_map(Pages& pdf, const Tiling& t, std::size_t sheet, const SheetFrame& frame) {
  const Vec2 step = t.window - Vec2{t.overlap, t.overlap};
  const Vec2 whole = t.window + Vec2{(t.columns - 1) * step.x, (t.rows - 1) * step.y};
  const double scale = kMap / std::max(whole.x, whole.y);
  const Tile& any = t.tiles[sheet];
  const Vec2 origin = any.corner - Vec2{any.column * step.x, (t.rows - 1 - any.row) * step.y};
  const Vec2 corner = Vec2{t.page.x - t.margins.right - kMap, 8} + 0.5 * (Vec2{kMap, kMap} - scale * whole);
  const auto at = [&](Vec2 p) { return corner + scale * (p - origin); };
  pdf.fill_rectangle(at(any.corner), scale * t.window, {0.8, 0.8, 0.8});
  for (const Tile& tile : t.tiles) pdf.rectangle(at(tile.corner), scale * t.window, {0.15, kGrey});
  for (const auto& rim : frame.outline) {
    std::vector<Vec2> line;
    for (const Vec2& p : rim) line.push_back(at(p));
    pdf.path(line, true, {0.2});
  }
  pdf.rectangle(at(any.corner), scale * t.window, {0.5});
  const double letter = std::min({2.6, 0.4 * scale * step.y, 0.4 * scale * step.x});
  if (letter < 1.2) return;
  for (std::size_t i = 0; i < t.tiles.size(); ++i)
    pdf.text(at(t.tiles[i].corner + 0.5 * t.window) - Vec2{0, 0.35 * letter}, std::to_string(i + 1),
             {letter, i == sheet, Align::centre, 0, kBlack, 0.25});
}

// Title and notes; on the last two lines what is filled in by hand.
void draw_words(Pages& pdf, const Tiling& t, const SheetFrame& frame) {
  const double left = t.margins.left, arrow = t.page.x - t.margins.right - kMap - 10;
  const double room = arrow - 9 - left;
  double y = t.margins.bottom - 7.4;
  const TextStyle title{4.6, true}, plain{2.9};
  pdf.text({left, y}, pdf.fitted(frame.title, title, room), title);
  y -= 4.3;
  const std::string date = "date ____________";
  const double date_width = pdf.text_width(date, plain) + 2;
  for (std::size_t i = 0; i < frame.notes.size(); ++i, y -= 3.8)
    pdf.text({left, y}, pdf.fitted(frame.notes[i], plain, i == 1 ? room - date_width : room), plain);
  if (frame.notes.size() > 1)
    pdf.text({left + room, t.margins.bottom - 7.4 - 4.3 - 3.8}, date, {2.9, false, Align::right});
  pdf.text({left, y}, "damp paper grows, measure these bars on the day: across ________ mm, up ________ mm", plain);
  draw_arrow(pdf, {arrow, 23}, frame.up, 15, 0.8, false);
  pdf.text({arrow, 23 - 7.5 * std::abs(frame.up.y) - 5}, frame.up_words, {2.6, false, Align::centre});
}

}  // namespace

void draw_arrow(Pages& pdf, Vec2 centre, Vec2 direction, double length, double width, bool casing) {
  const Vec2 d = glm::normalize(direction), side{-d.y, d.x};
  const Vec2 foot = centre - 0.5 * length * d, tip = centre + 0.5 * length * d, neck = tip - 0.35 * length * d;
  const std::vector<std::vector<Vec2>> head{{tip, neck + 0.16 * length * side, neck - 0.16 * length * side}};
  pdf.line(foot, neck, {width, kBlack, {}, casing ? width : 0});
  if (casing) pdf.path(head[0], true, {2 * width, kWhite});
  pdf.fill(head, kBlack);
}

void draw_frame(Pages& pdf, const Tiling& tiling, std::size_t sheet, const SheetFrame& frame) {
  const Neighbours n = neighbours_of(tiling, tiling.tiles[sheet]);
  draw_joints(pdf, tiling, n);
  draw_crosses(pdf, tiling, n);
  draw_bars(pdf, tiling);
  draw_map(pdf, tiling, sheet, frame);
  draw_words(pdf, tiling, frame);
}

}  // namespace pontata
