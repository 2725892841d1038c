#include <algorithm>
#include <cmath>
#include <queue>

#include "engine/base/predicates.h"
#include "engine/giornate/measures.h"

namespace pontata {

namespace {

struct Segment {
  Vec2 from, step;
  double inverse_square = 0;  // 1 / |step|^2
};

// The rings in metres from the middle of their box.
struct Outline {
  std::vector<Segment> segments;
  LatticePoint middle;
  Vec2 half{0, 0};
};

Outline outline_of(std::span<const Ring> rings) {
  Outline o;
  if (rings.empty() || rings.front().empty()) return o;
  LatticePoint low = rings.front().front(), high = low;
  for (const LatticePoint& p : rings.front()) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  o.middle = {low.x + (high.x - low.x) / 2, low.y + (high.y - low.y) / 2};
  o.half = 0.5 * kPitch * Vec2(static_cast<double>(high.x - low.x), static_cast<double>(high.y - low.y));
  const auto local = [&](LatticePoint p) {
    return kPitch * Vec2(static_cast<double>(p.x - o.middle.x), static_cast<double>(p.y - o.middle.y));
  };
  for (const Ring& ring : rings)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 from = local(ring[i]);
      const Vec2 step = local(ring[(i + 1) % ring.size()]) - from;
      o.segments.push_back({from, step, 1 / glm::dot(step, step)});
    }
  return o;
}

// Distance to the nearest segment, negative outside (even-odd rule).
double depth(const Outline& o, Vec2 p) {
  double least = 1e300;
  bool inside = false;
  for (const Segment& s : o.segments) {
    const Vec2 to = p - s.from;
    const double along = std::clamp(glm::dot(to, s.step) * s.inverse_square, 0.0, 1.0);
    const Vec2 off = to - along * s.step;
    least = std::min(least, glm::dot(off, off));
    const bool above = to.y < 0;
    if (above != (to.y < s.step.y)) inside ^= (to.x * s.step.y < to.y * s.step.x) == (s.step.y > 0);
  }
  return (inside ? 1 : -1) * std::sqrt(least);
}

struct Cell {
  Vec2 centre;
  double half = 0, depth = 0;
  double hope() const { return depth + half * std::sqrt(2.0); }
  bool operator<(const Cell& o) const { return hope() < o.hope(); }
};

// The deepest place to 1 % of the box, by refining the most hopeful cell of a grid first.
Vec2 deepest(const Outline& o) {
  constexpr int kGrid = 24;
  constexpr int kMostCells = 4000;
  const double longer = std::max(o.half.x, o.half.y);
  const double half = std::max(std::min(o.half.x, o.half.y), longer / kGrid);
  std::priority_queue<Cell> cells;
  Cell best{{0, 0}, 0, depth(o, {0, 0})};
  const auto add = [&](Vec2 centre, double h) {
    const Cell cell{centre, h, depth(o, centre)};
    if (cell.depth > best.depth) best = cell;
    cells.push(cell);
  };
  for (double x = -o.half.x + half; x < o.half.x + half; x += 2 * half)
    for (double y = -o.half.y + half; y < o.half.y + half; y += 2 * half) add({x, y}, half);
  for (int made = 0; made < kMostCells && !cells.empty(); made += 4) {
    const Cell cell = cells.top();
    cells.pop();
    if (cell.hope() <= best.depth + 0.01 * longer && best.depth > 0) break;
    for (const Vec2 corner : {Vec2(-1, -1), Vec2(1, -1), Vec2(-1, 1), Vec2(1, 1)})
      add(cell.centre + 0.5 * cell.half * corner, 0.5 * cell.half);
  }
  return best.centre;
}

bool exactly_inside(std::span<const Ring> rings, LatticePoint p) {
  bool inside = false;
  for (const Ring& ring : rings) {
    const int s = point_in_ring(ring, p);
    if (s == 0) return false;
    inside ^= s > 0;
  }
  return inside;
}

// For slivers that no cell finds: the middle of the widest stretch inside, half way between neighbouring corner
// heights.
LatticePoint by_rows(std::span<const Ring> rings) {
  std::vector<std::int64_t> heights;
  for (const Ring& ring : rings)
    for (const LatticePoint& p : ring) heights.push_back(p.y);
  std::sort(heights.begin(), heights.end());
  LatticePoint best = rings.front().front();
  long double widest = 0;
  for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
    const std::int64_t y = heights[i] + (heights[i + 1] - heights[i]) / 2;
    if (y == heights[i]) continue;
    std::vector<long double> cuts;
    for (const Ring& ring : rings)
      for (std::size_t k = 0; k < ring.size(); ++k) {
        const LatticePoint a = ring[k], b = ring[(k + 1) % ring.size()];
        if ((a.y > y) == (b.y > y)) continue;
        cuts.push_back(static_cast<long double>(a.x) +
                       static_cast<long double>(b.x - a.x) *
                           (static_cast<long double>(y - a.y) / static_cast<long double>(b.y - a.y)));
      }
    std::sort(cuts.begin(), cuts.end());
    for (std::size_t k = 0; k + 1 < cuts.size(); k += 2) {
      const LatticePoint p{std::llround(0.5L * (cuts[k] + cuts[k + 1])), y};
      if (cuts[k + 1] - cuts[k] <= widest || !exactly_inside(rings, p)) continue;
      widest = cuts[k + 1] - cuts[k];
      best = p;
    }
  }
  return best;
}

}  // namespace

ChartPoint label_place(std::span<const Ring> rings) {
  const Outline o = outline_of(rings);
  if (o.segments.empty()) return {};
  const Vec2 place = deepest(o);
  const LatticePoint p{o.middle.x + std::llround(place.x / kPitch), o.middle.y + std::llround(place.y / kPitch)};
  return to_chart(exactly_inside(rings, p) ? p : by_rows(rings));
}

}  // namespace pontata
