#include "engine/cartoon/relief_ground.h"

#include <algorithm>
#include <cmath>
#include <queue>
#include <unordered_set>

#include "engine/base/predicates.h"

namespace pontata {
namespace {

constexpr double kCells = 200000;        // at most
constexpr double kContourReach = 0.006;  // m of the chart: a way so near runs along a contour
constexpr double kOnContour = 0.5;       // what it costs there
constexpr double kShallow = 0.025;       // m: nearer to a rim a way costs more, so that it leaves it squarely
constexpr double kApart = 0.045;         // m between ways

struct Box {
  LatticePoint low, high;
};
Box box_of(const Ring& ring) {
  Box b{ring.front(), ring.front()};
  for (const LatticePoint p : ring)
    b.low = {std::min(b.low.x, p.x), std::min(b.low.y, p.y)},
    b.high = {std::max(b.high.x, p.x), std::max(b.high.y, p.y)};
  return b;
}
bool holds(const Box& b, LatticePoint p) {
  return p.x >= b.low.x && p.x <= b.high.x && p.y >= b.low.y && p.y <= b.high.y;
}

// A step to one of the eight cells about.
struct Step {
  int x, y;
  double length;
};
constexpr Step kSteps[] = {{1, 0, 1},          {0, 1, 1},           {-1, 0, 1},           {0, -1, 1},
                           {1, 1, 1.41421356}, {-1, 1, 1.41421356}, {-1, -1, 1.41421356}, {1, -1, 1.41421356}};

using Entry = std::pair<double, std::size_t>;
using Queue = std::priority_queue<Entry, std::vector<Entry>, std::greater<>>;

}  // namespace

ReliefGround::ReliefGround(const CartoonWall& wall, const Patch& patch, std::span<const Vec2> flat)
    : patch_(patch), flat_(flat) {
  Vec2 high{-1e300, -1e300};
  low_ = {1e300, 1e300};
  for (const Vec2& p : flat) low_ = glm::min(low_, p), high = glm::max(high, p);
  size_ = std::max(size_, std::sqrt((high.x - low_.x) * (high.y - low_.y) / kCells));
  columns_ = static_cast<int>((high.x - low_.x) / size_) + 1, rows_ = static_cast<int>((high.y - low_.y) / size_) + 1;
  fill(wall);
  measure_depths();
  mark_zones(wall);
  mark_contours(wall);
}

ReliefGround::Cell ReliefGround::cell_of(Vec2 p) const {
  return {static_cast<int>(std::floor((p.x - low_.x) / size_)), static_cast<int>(std::floor((p.y - low_.y) / size_))};
}

ChartPoint ReliefGround::place(std::uint32_t t, Vec2 p) const {
  const Triangle& v = patch_.triangles[t];
  const Vec2 a = flat_[v[0]], b = flat_[v[1]] - a, c = flat_[v[2]] - a;
  const double whole = cross2(b, c), wb = cross2(p - a, c) / whole, wc = cross2(b, p - a) / whole;
  return to_chart((1 - wb - wc) * to_vec(patch_.corner_place(t, 0)) + wb * to_vec(patch_.corner_place(t, 1)) +
                  wc * to_vec(patch_.corner_place(t, 2)));
}

void ReliefGround::fill(const CartoonWall&) {
  const auto cells = static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_);
  triangle_.assign(cells, kOutside);
  blocked_.assign(cells, 0), contour_.assign(cells, 0), taken_.assign(cells, 0);
  for (std::uint32_t t = 0; t < patch_.triangles.size(); ++t) {
    const Triangle& v = patch_.triangles[t];
    const Vec2 a = flat_[v[0]], b = flat_[v[1]], c = flat_[v[2]];
    const Cell from = cell_of(glm::min(a, glm::min(b, c))), to = cell_of(glm::max(a, glm::max(b, c)));
    for (int y = std::max(from.y, 0); y <= std::min(to.y, rows_ - 1); ++y)
      for (int x = std::max(from.x, 0); x <= std::min(to.x, columns_ - 1); ++x) {
        const Vec2 p = middle({x, y});
        if (cross2(b - a, p - a) >= 0 && cross2(c - b, p - b) >= 0 && cross2(a - c, p - c) >= 0)
          triangle_[index({x, y})] = t;
      }
  }
}

void ReliefGround::mark_zones(const CartoonWall& wall) {
  std::vector<Ring> rings;
  for (const Zone& zone : wall.zones)
    if (zone.kind == ZoneKind::keep_whole)
      for (Ring& ring : zone.rings()) rings.push_back(std::move(ring));
  std::vector<Box> boxes;
  for (const Ring& ring : rings) boxes.push_back(box_of(ring));
  if (boxes.empty()) return;
  for (std::size_t i = 0; i < triangle_.size(); ++i) {
    if (triangle_[i] == kOutside) continue;
    const LatticePoint p = to_lattice(place(triangle_[i], middle(cell_at(i))));
    for (std::size_t z = 0; z < boxes.size() && !blocked_[i]; ++z)
      if (holds(boxes[z], p) && point_in_ring(rings[z], p) >= 0) blocked_[i] = 1;
  }
  grow_blocked();
}

// By the clearance and a cell, for the way is drawn through the middles of cells.
void ReliefGround::grow_blocked() {
  const int reach = 1 + static_cast<int>(std::ceil(kZoneClearance / size_));
  std::vector<char> grown = blocked_;
  for (std::size_t i = 0; i < blocked_.size(); ++i) {
    if (!blocked_[i]) continue;
    const Cell c = cell_at(i);
    for (int y = std::max(c.y - reach, 0); y <= std::min(c.y + reach, rows_ - 1); ++y)
      for (int x = std::max(c.x - reach, 0); x <= std::min(c.x + reach, columns_ - 1); ++x) grown[index({x, y})] = 1;
  }
  blocked_ = std::move(grown);
}

// Chart squares that a contour passes, and those about them, as far as they lie in the patch's own box.
void ReliefGround::mark_contours(const CartoonWall& wall) {
  if (!wall.contours) return;
  ChartPoint low{1e300, 1e300}, high{-1e300, -1e300};
  for (const ChartPoint& p : patch_.places) {
    low = {std::min(low.u, p.u), std::min(low.v, p.v)};
    high = {std::max(high.u, p.u), std::max(high.v, p.v)};
  }
  const auto key = [](double u, double v) {
    const auto i = static_cast<std::int64_t>(std::floor(u / kContourReach));
    const auto j = static_cast<std::int64_t>(std::floor(v / kContourReach));
    return (static_cast<std::uint64_t>(i) << 32) ^ (static_cast<std::uint64_t>(j) & 0xffffffffu);
  };
  std::unordered_set<std::uint64_t> passed;
  const auto pass = [&](Vec2 p) {
    if (p.x < low.u || p.x > high.u || p.y < low.v || p.y > high.v) return;
    for (const double du : {-0.5, 0.5})
      for (const double dv : {-0.5, 0.5}) passed.insert(key(p.x + du * kContourReach, p.y + dv * kContourReach));
  };
  for (const auto& line : *wall.contours)
    for (std::size_t k = 1; k < line.size(); ++k) {
      const Vec2 a = to_vec(line[k - 1]), b = to_vec(line[k]);
      const int steps = std::max(1, static_cast<int>(std::ceil(glm::distance(a, b) / kContourReach)));
      for (int s = 0; s <= steps; ++s) pass(a + (b - a) * (static_cast<double>(s) / steps));
    }
  if (passed.empty()) return;
  for (std::size_t i = 0; i < triangle_.size(); ++i) {
    if (triangle_[i] == kOutside) continue;
    const ChartPoint p = place(triangle_[i], middle(cell_at(i)));
    contour_[i] = passed.contains(key(p.u, p.v));
  }
}

void ReliefGround::measure_depths() {
  depth_.assign(triangle_.size(), 1e30f);
  Queue queue;
  for (std::size_t i = 0; i < triangle_.size(); ++i) {
    if (triangle_[i] == kOutside) continue;
    const Cell c = cell_at(i);
    for (const Step& s : kSteps)
      if (!inside({c.x + s.x, c.y + s.y})) {
        depth_[i] = static_cast<float>(0.5 * size_);
        queue.emplace(depth_[i], i);
        break;
      }
  }
  while (!queue.empty()) {
    const auto [depth, i] = queue.top();
    queue.pop();
    if (depth > static_cast<double>(depth_[i])) continue;
    const Cell c = cell_at(i);
    for (const Step& s : kSteps) {
      const Cell n{c.x + s.x, c.y + s.y};
      if (!inside(n)) continue;
      const auto next = static_cast<float>(depth + s.length * size_);
      if (next < depth_[index(n)]) depth_[index(n)] = next, queue.emplace(next, index(n));
    }
  }
}

std::optional<std::size_t> ReliefGround::nearest_inside(Vec2 p) const {
  const Cell c = cell_of(p);
  std::optional<std::size_t> best;
  double least = 1e300;
  for (int y = c.y - 2; y <= c.y + 2; ++y)
    for (int x = c.x - 2; x <= c.x + 2; ++x) {
      if (!inside({x, y})) continue;
      const double d = glm::distance(middle({x, y}), p);
      if (d < least) least = d, best = index({x, y});
    }
  return best;
}

bool ReliefGround::is_free(Vec2 p) const {
  const auto i = nearest_inside(p);
  return i && !blocked_[*i];
}

// Climbs from the rim to where the patch is widest, and back to `share` of the depth there. Ends where the depth grows
// by less than half of the way, which is along a ridge.
std::size_t ReliefGround::ridge_from(std::size_t start, double share) const {
  constexpr int kReach = 3;
  std::vector<std::size_t> way{start};
  for (;;) {
    const Cell c = cell_at(way.back());
    std::size_t best = way.back();
    double steepest = 0.5;
    for (int y = -kReach; y <= kReach; ++y)
      for (int x = -kReach; x <= kReach; ++x) {
        const Cell n{c.x + x, c.y + y};
        if ((x == 0 && y == 0) || !inside(n)) continue;
        const double rise = (depth_[index(n)] - depth_[way.back()]) / (size_ * std::hypot(x, y));
        if (rise > steepest + 1e-9) steepest = rise, best = index(n);
      }
    if (best == way.back()) break;
    way.push_back(best);
  }
  const double wanted = share * depth_[way.back()];
  return *std::find_if(way.begin(), way.end(), [&](std::size_t i) { return depth_[i] >= wanted; });
}

double ReliefGround::step_cost(std::size_t from, std::size_t to, double length) const {
  double cost = length * (contour_[from] && contour_[to] ? kOnContour : 1.0);
  if (depth_[to] < kShallow) cost *= 1 + 3 * (1 - depth_[to] / kShallow);
  return cost;
}

double ReliefGround::straight_cost(Vec2 a, Vec2 b) const {
  const int steps = std::max(1, static_cast<int>(std::ceil(glm::distance(a, b) / (0.5 * size_))));
  double cost = 0;
  std::optional<std::size_t> last = nearest_inside(a);
  for (int k = 1; k <= steps && last; ++k) {
    const Cell c = cell_of(a + (b - a) * (static_cast<double>(k) / steps));
    if (!inside(c) || blocked_[index(c)] || taken_[index(c)]) return 1e300;
    cost += step_cost(*last, index(c), glm::distance(a, b) / steps);
    last = index(c);
  }
  return cost;
}

// Straight wherever that costs no more.
PaperWay ReliefGround::straightened(const PaperWay& way) const {
  std::vector<double> cost{0};
  for (std::size_t i = 1; i < way.size(); ++i) cost.push_back(cost.back() + straight_cost(way[i - 1], way[i]));
  PaperWay out{way.front()};
  for (std::size_t i = 0; i + 1 < way.size();) {
    std::size_t next = i + 1;
    for (std::size_t j = way.size() - 1; j > i + 1; --j)
      if (straight_cost(way[i], way[j]) <= 1.005 * (cost[j] - cost[i])) {
        next = j;
        break;
      }
    out.push_back(way[next]);
    i = next;
  }
  return out;
}

std::optional<PaperWay> ReliefGround::way_from(std::size_t rim, std::size_t i, double share) const {
  const Vec2 mouth = flat_[patch_.rims[rim][i]];
  const auto start = nearest_inside(mouth);
  if (!start || blocked_[*start] || taken_[*start]) return std::nullopt;
  const Vec2 target = middle(cell_at(ridge_from(*start, share)));
  std::vector<double> cost(triangle_.size(), 1e300);
  std::vector<std::size_t> before(triangle_.size(), 0);
  Queue queue;
  cost[*start] = 0;
  queue.emplace(0, *start);
  std::size_t best = *start;
  const double most = 3 * glm::distance(mouth, target);
  while (!queue.empty()) {
    const auto [far, at] = queue.top();
    queue.pop();
    if (far > cost[at]) continue;
    if (glm::distance(middle(cell_at(at)), target) < glm::distance(middle(cell_at(best)), target)) best = at;
    if (far > most || glm::distance(middle(cell_at(at)), target) < 0.6 * size_) break;
    const Cell c = cell_at(at);
    for (const Step& s : kSteps) {
      const Cell n{c.x + s.x, c.y + s.y};
      if (!inside(n) || blocked_[index(n)] || taken_[index(n)]) continue;
      const double next = far + step_cost(at, index(n), s.length * size_);
      if (next < cost[index(n)]) cost[index(n)] = next, before[index(n)] = at, queue.emplace(next, index(n));
    }
  }
  PaperWay way;
  for (std::size_t at = best; at != *start; at = before[at]) way.push_back(middle(cell_at(at)));
  way.push_back(mouth);
  std::reverse(way.begin(), way.end());
  if (way.size() < 2 || glm::distance(way.back(), mouth) < kLeastWay) return std::nullopt;
  return straightened(way);
}

void ReliefGround::take(const PaperWay& way) {
  const int reach = static_cast<int>(std::ceil(kApart / size_));
  for (std::size_t k = 1; k < way.size(); ++k) {
    const int steps = std::max(1, static_cast<int>(std::ceil(glm::distance(way[k - 1], way[k]) / size_)));
    for (int s = 0; s <= steps; ++s) {
      const Cell c = cell_of(way[k - 1] + (way[k] - way[k - 1]) * (static_cast<double>(s) / steps));
      for (int y = std::max(c.y - reach, 0); y <= std::min(c.y + reach, rows_ - 1); ++y)
        for (int x = std::max(c.x - reach, 0); x <= std::min(c.x + reach, columns_ - 1); ++x)
          if (std::hypot(x - c.x, y - c.y) <= reach) taken_[index({x, y})] = 1;
    }
  }
}

std::vector<LatticePoint> ReliefGround::in_chart(const PaperWay& way) const {
  constexpr double kEvery = 0.03, kJump = 5;
  std::vector<LatticePoint> out;
  std::optional<Vec2> last;
  for (std::size_t k = 1; k < way.size(); ++k) {
    const int steps = std::max(1, static_cast<int>(std::ceil(glm::distance(way[k - 1], way[k]) / kEvery)));
    for (int s = 1; s <= steps; ++s) {
      const Vec2 p = way[k - 1] + (way[k] - way[k - 1]) * (static_cast<double>(s) / steps);
      const auto cell = nearest_inside(p);
      if (!cell) return out;
      const Vec2 at = to_vec(place(triangle_[*cell], p));
      if (last && glm::distance(at, *last) > kJump * kEvery) return out;
      last = at;
      out.push_back(to_lattice(to_chart(at)));
    }
  }
  return out;
}

}  // namespace pontata
