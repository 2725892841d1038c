#include "engine/document/seam_files/drawing_order.h"

#include <algorithm>
#include <functional>

namespace pontata {

namespace {

struct Outline {
  std::size_t path = 0;
  DrawingBox box;
};

DrawingBox grown(const std::vector<DrawnLine>& lines, bool closed_only) {
  DrawingBox box;
  bool any = false;
  for (const auto& line : lines) {
    if (closed_only && !line.closed) continue;
    for (const Vec2& p : line.points) {
      if (!any) box = {p, p};
      any = true;
      box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y)};
      box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y)};
    }
  }
  return box;
}

bool is_inside(const std::vector<Vec2>& outline, const Vec2& p) {  // even-odd
  bool inside = false;
  for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
    const Vec2 &a = outline[i], &b = outline[j];
    if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x) inside = !inside;
  }
  return inside;
}

const DrawnLine* first_outline(const DrawnPath& path) {
  const auto it = std::find_if(path.lines.begin(), path.lines.end(), [](const DrawnLine& l) { return l.closed; });
  return it == path.lines.end() || it->points.empty() ? nullptr : &*it;
}

bool lies_in(const Drawing& drawing, const Outline& inner, const Outline& outer) {
  if (inner.box.low.x <= outer.box.low.x || inner.box.low.y <= outer.box.low.y ||
      inner.box.high.x >= outer.box.high.x || inner.box.high.y >= outer.box.high.y)
    return false;
  const auto& points = first_outline(drawing.paths[inner.path])->points;
  const auto& around = first_outline(drawing.paths[outer.path])->points;
  const std::size_t step = std::max<std::size_t>(1, points.size() / 16);
  for (std::size_t i = 0; i < points.size(); i += step)
    if (!is_inside(around, points[i])) return false;
  return true;
}

}  // namespace

bool is_own(const DrawnPath& path, std::string_view kind) { return path.own && path.own->kind == kind; }

bool is_no_seam(const DrawnPath& path) { return path.own && path.own->kind != "giornata"; }

DrawingBox box_of(const Drawing& drawing) {
  std::vector<DrawnLine> ends;
  for (const auto& path : drawing.paths) {
    if (is_no_seam(path) && !is_own(path, "zone")) continue;
    const DrawingBox box = grown(path.lines, false);
    ends.push_back({{box.low, box.high}, false, false});
  }
  return grown(ends, false);
}

std::vector<std::size_t> outline_order(const Drawing& drawing, bool outer_first) {
  std::vector<Outline> outlines;
  for (std::size_t i = 0; i < drawing.paths.size(); ++i)
    if (!is_no_seam(drawing.paths[i]) && first_outline(drawing.paths[i]))
      outlines.push_back({i, grown(drawing.paths[i].lines, true)});
  std::vector<std::size_t> order;
  std::vector<bool> seen(outlines.size());
  const std::function<void(std::size_t)> add = [&](std::size_t k) {
    if (seen[k]) return;
    seen[k] = true;
    for (std::size_t j = 0; j < outlines.size(); ++j) {
      if (seen[j]) continue;
      if (outer_first ? lies_in(drawing, outlines[k], outlines[j]) : lies_in(drawing, outlines[j], outlines[k])) add(j);
    }
    order.push_back(outlines[k].path);
  };
  for (std::size_t k = 0; k < outlines.size(); ++k) add(k);
  return order;
}

}  // namespace pontata
