#include "engine/cartoon/tiling_grid.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace pontata {
namespace {

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

// Cores of a grid that were met.
class Met {
 public:
  Met(const Extent& e, const SheetShape& shape, Vec2 start, double reach) : step_(shape.step), start_(start) {
    first_[0] = cell((e.lo.x - reach - start.x) / step_.x), first_[1] = cell((e.lo.y - reach - start.y) / step_.y);
    columns_ = cell((e.hi.x + reach - start.x) / step_.x) - first_[0] + 1;
    rows_ = cell((e.hi.y + reach - start.y) / step_.y) - first_[1] + 1;
    met_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_), 0);
    reach_ = Vec2{reach, reach};
  }
  void add(const std::array<Vec2, 3>& t) {
    const Vec2 lo = (glm::min(t[0], glm::min(t[1], t[2])) - reach_ - start_) / step_;
    const Vec2 hi = (glm::max(t[0], glm::max(t[1], t[2])) + reach_ - start_) / step_;
    const int c0 = cell(lo.x), c1 = cell(hi.x), r0 = cell(lo.y), r1 = cell(hi.y);
    for (int r = r0; r <= r1; ++r)
      for (int c = c0; c <= c1; ++c) {
        char& met = at(c, r);
        if (met) continue;
        const Vec2 corner = corner_of(c, r);
        met = (c0 == c1 && r0 == r1) || meets(t, corner - reach_, corner + step_ + reach_);
      }
  }
  // Row by row from the top; columns and rows counted from the first met.
  void tiles(Tiling& t) const {
    int left = columns_, right = -1, low = rows_, high = -1;
    each([&](int c, int r) { left = std::min(left, c), right = std::max(right, c), low = std::min(low, r), high = r; });
    t.columns = right - left + 1, t.rows = high - low + 1;
    each([&](int c, int r) {
      const Vec2 corner = corner_of(c + first_[0], r + first_[1]) - 0.5 * Vec2{t.overlap, t.overlap};
      t.tiles.push_back({c - left, high - r, corner});
    });
    std::sort(t.tiles.begin(), t.tiles.end(),
              [](const Tile& a, const Tile& b) { return std::pair(a.row, a.column) < std::pair(b.row, b.column); });
  }

 private:
  static int cell(double x) { return static_cast<int>(std::floor(x)); }
  Vec2 corner_of(int c, int r) const { return start_ + Vec2{c * step_.x, r * step_.y}; }
  char& at(int c, int r) {
    return met_[static_cast<std::size_t>(r - first_[1]) * static_cast<std::size_t>(columns_) +
                static_cast<std::size_t>(c - first_[0])];
  }
  template <class F>
  void each(F&& f) const {
    for (int r = 0; r < rows_; ++r)
      for (int c = 0; c < columns_; ++c)
        if (met_[static_cast<std::size_t>(r) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(c)])
          f(c, r);
  }
  Vec2 step_, start_, reach_{0, 0};
  std::array<int, 2> first_{};
  int columns_ = 0, rows_ = 0;
  std::vector<char> met_;
};

}  // namespace

SheetShape sheet_shape(Vec2 page, const SheetMargins& m, double overlap) {
  const Vec2 window = page - Vec2{m.left + m.right, m.top + m.bottom};
  return {page, window, window - Vec2{overlap, overlap}};
}

Extent extent_of(const std::vector<Vec2>& points, Vec2 turn) {
  Extent e;
  for (const Vec2& p : points) {
    const Vec2 q = turned_by(turn, p);
    e.lo = glm::min(e.lo, q), e.hi = glm::max(e.hi, q);
  }
  return e;
}

int sheets_along(double length, double window, double overlap) {
  if (length <= window) return 1;
  return 1 + static_cast<int>(std::ceil((length - window) / (window - overlap) - 1e-9));
}

Tiling tiling_of(const std::vector<Vec2>& corners, const SheetShape& shape, const Laid& laid, double overlap) {
  Tiling out;
  out.turn = laid.turn, out.page = shape.page, out.window = shape.window, out.overlap = overlap;
  const double reach = std::max(0.0, kTilingRoom - 0.5 * overlap) - 1e-6;  // what just fits, fits
  Met met(extent_of(corners, laid.turn), shape, laid.start, reach);
  for (std::size_t i = 0; i + 2 < corners.size(); i += 3)
    met.add(
        {turned_by(laid.turn, corners[i]), turned_by(laid.turn, corners[i + 1]), turned_by(laid.turn, corners[i + 2])});
  met.tiles(out);
  return out;
}

Laid centred_box(const std::vector<Vec2>& corners, const SheetShape& shape, Vec2 turn, double overlap) {
  const Extent e = extent_of(corners, turn);
  const Vec2 size = e.size() + Vec2{2 * kTilingRoom, 2 * kTilingRoom};
  const Vec2 cores{sheets_along(size.x, shape.window.x, overlap) * shape.step.x,
                   sheets_along(size.y, shape.window.y, overlap) * shape.step.y};
  return {turn, 0.5 * (e.lo + e.hi - cores)};
}

}  // namespace pontata
