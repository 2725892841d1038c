#include "engine/document/seam_files/joined_strokes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

namespace pontata {

namespace {

constexpr double kSameEnd = 1e-5;  // m

struct End {
  std::size_t path = 0;
  bool last = false;
};
bool operator==(const End& a, const End& b) { return a.path == b.path && a.last == b.last; }

class Strokes {
 public:
  explicit Strokes(const Drawing& drawing) : drawing_(drawing) {
    for (std::size_t i = 0; i < drawing.paths.size(); ++i) {
      const auto& path = drawing.paths[i];
      if (path.own || path.lines.size() != 1 || path.lines[0].closed || !path.lines[0].simple) continue;
      strokes_.push_back(i);
      for (const bool last : {false, true}) cells_.emplace(cell(place({i, last}), path.layer), End{i, last});
    }
  }

  const std::vector<std::size_t>& all() const { return strokes_; }

  // The one other end that meets this; nullopt where there is none, or more.
  std::optional<End> partner(const End& end) const {
    std::optional<End> found;
    const Vec2 here = place(end);
    const std::string& layer = drawing_.paths[end.path].layer;
    for (const double dx : {-1.0, 0.0, 1.0})
      for (const double dy : {-1.0, 0.0, 1.0}) {
        Cell near = cell(here, layer);
        std::get<1>(near) += dx;
        std::get<2>(near) += dy;
        const auto [from, to] = cells_.equal_range(near);
        for (auto it = from; it != to; ++it) {
          if (it->second == end || glm::length(place(it->second) - here) > kSameEnd) continue;
          if (found && !(*found == it->second)) return std::nullopt;
          found = it->second;
        }
      }
    return found;
  }

  // The strokes from this one on, each with the end it begins at. False where they do not close.
  bool round(std::size_t first, std::vector<End>& way) const {
    way.clear();
    End begin{first, false};
    do {
      way.push_back(begin);
      const auto next = partner({begin.path, !begin.last});
      if (!next || way.size() > strokes_.size()) return false;
      const auto back = partner(*next);
      if (!back || !(*back == End{begin.path, !begin.last})) return false;
      begin = *next;
    } while (begin.path != first);
    return !begin.last && way.size() > 1;
  }

 private:
  Vec2 place(const End& end) const {
    const auto& points = drawing_.paths[end.path].lines[0].points;
    return end.last ? points.back() : points.front();
  }
  using Cell = std::tuple<std::string, double, double>;
  static Cell cell(const Vec2& p, const std::string& layer) {
    return {layer, std::floor(p.x / kSameEnd), std::floor(p.y / kSameEnd)};
  }
  const Drawing& drawing_;
  std::vector<std::size_t> strokes_;
  std::multimap<Cell, End> cells_;
};

DrawnLine outline_of(const Drawing& drawing, const std::vector<End>& way) {
  DrawnLine outline{{}, true, false};
  for (const End& begin : way) {
    auto points = drawing.paths[begin.path].lines[0].points;
    if (begin.last) std::reverse(points.begin(), points.end());
    outline.points.insert(outline.points.end(), points.begin(), points.end() - 1);  // the next begins there
  }
  return outline;
}

}  // namespace

void join_strokes(Drawing& drawing) {
  const Strokes strokes(drawing);
  std::vector<bool> gone(drawing.paths.size()), seen(drawing.paths.size());
  std::map<std::size_t, DrawnLine> made;
  std::vector<End> way;
  for (const std::size_t first : strokes.all()) {
    if (seen[first]) continue;
    const bool closes = strokes.round(first, way);
    for (const End& stroke : way) seen[stroke.path] = true;
    if (!closes) continue;
    for (const End& stroke : way) gone[stroke.path] = true;
    gone[first] = false;
    made[first] = outline_of(drawing, way);
  }
  std::vector<DrawnPath> paths;
  for (std::size_t i = 0; i < drawing.paths.size(); ++i) {
    if (gone[i]) continue;
    if (const auto it = made.find(i); it != made.end()) {
      drawing.paths[i].lines = {std::move(it->second)};
      drawing.paths[i].place += " and those that join it";
    }
    paths.push_back(std::move(drawing.paths[i]));
  }
  drawing.paths = std::move(paths);
}

}  // namespace pontata
