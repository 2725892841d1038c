#include "engine/cartoon/tiling.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace pontata {
namespace {

constexpr double kRoom = 12;  // mm round the pattern, for the neighbours' numbers

struct Extent {
  Vec2 lo{1e300, 1e300}, hi{-1e300, -1e300};
};

// Sheets along one side: one, or as many as overlapping windows need.
int count(double length, double window, double overlap) {
  if (length <= window) return 1;
  return 1 + static_cast<int>(std::ceil((length - window) / (window - overlap) - 1e-9));
}

// Closed triangle and box share a point: separating axes (Ericson, "Real-Time Collision Detection", 5.2.1, in the
// plane).
bool meets(const std::array<Vec2, 3>& t, Vec2 lo, Vec2 hi) {
  if (std::min({t[0].x, t[1].x, t[2].x}) > hi.x || std::max({t[0].x, t[1].x, t[2].x}) < lo.x) return false;
  if (std::min({t[0].y, t[1].y, t[2].y}) > hi.y || std::max({t[0].y, t[1].y, t[2].y}) < lo.y) return false;
  const std::array<Vec2, 4> box{lo, Vec2{hi.x, lo.y}, hi, Vec2{lo.x, hi.y}};
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec2 a = t[k], d = t[(k + 1) % 3] - a;
    const double inside = cross2(d, t[(k + 2) % 3] - a);
    if (std::all_of(box.begin(), box.end(), [&](Vec2 p) { return cross2(d, p - a) * inside < 0; })) return false;
  }
  return true;
}

Extent extent_of(const Tiling& tiling, const std::vector<Vec2>& corners) {
  Extent e;
  for (const Vec2& p : corners) e.lo = glm::min(e.lo, placed(tiling, p)), e.hi = glm::max(e.hi, placed(tiling, p));
  e.lo -= kRoom, e.hi += kRoom;
  return e;
}

Tiling laid(const std::vector<Vec2>& corners, const Paper& paper, double overlap, bool turned) {
  Tiling t;
  t.turned = turned, t.overlap = overlap;
  const Extent e = extent_of(t, corners);
  const Vec2 size = e.hi - e.lo, blank{t.margins.left + t.margins.right, t.margins.top + t.margins.bottom};
  t.page = {paper.width_mm, paper.height_mm};
  if (paper.roll) {  // as many sheets as the longest would take, then no longer than that
    const int rows = count(size.y, paper.height_mm - blank.y, overlap);
    t.page.y = std::min(paper.height_mm, std::max(200.0, (size.y + (rows - 1) * overlap) / rows + blank.y));
  }
  t.window = t.page - blank;
  t.columns = count(size.x, t.window.x, overlap), t.rows = count(size.y, t.window.y, overlap);
  const Vec2 step = t.window - Vec2{overlap, overlap};
  const Vec2 whole{t.window.x + (t.columns - 1) * step.x, t.window.y + (t.rows - 1) * step.y};
  const Vec2 start = e.lo - 0.5 * (whole - size);
  for (int r = 0; r < t.rows; ++r)
    for (int c = 0; c < t.columns; ++c) {
      const Tile tile{c, r, start + Vec2{c * step.x, (t.rows - 1 - r) * step.y}};
      for (std::size_t i = 0; i + 2 < corners.size(); i += 3)
        if (meets({placed(t, corners[i]), placed(t, corners[i + 1]), placed(t, corners[i + 2])}, tile.corner,
                  tile.corner + t.window)) {
          t.tiles.push_back(tile);
          break;
        }
    }
  return t;
}

}  // namespace

Vec2 placed(const Tiling& tiling, Vec2 p) { return tiling.turned ? Vec2{-p.y, p.x} : p; }

Result<Tiling> tile(const std::vector<Vec2>& corners, const Paper& paper, double overlap_mm) {
  const SheetMargins m;
  const double narrow = std::min(paper.width_mm - m.left - m.right, paper.height_mm - m.top - m.bottom);
  if (!(overlap_mm >= 0) || !(overlap_mm < 0.5 * narrow))
    return Problem{"the sheets' overlap leaves no room for the pattern", "",
                   "Choose a smaller overlap or a larger paper."};
  Tiling upright = laid(corners, paper, overlap_mm, false), turned = laid(corners, paper, overlap_mm, true);
  const auto cost = [](const Tiling& t) {  // sheets to glue first, then paper
    return std::pair{t.tiles.size(),
                     static_cast<double>(t.tiles.size()) * t.page.x * t.page.y * (t.turned ? 1 : 1 - 1e-9)};
  };
  return cost(turned) < cost(upright) ? std::move(turned) : std::move(upright);
}

}  // namespace pontata
