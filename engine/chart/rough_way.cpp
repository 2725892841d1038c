#include "engine/chart/rough_way.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <queue>
#include <utility>

namespace pontata {

namespace {

enum class Move : std::uint8_t { start, along, back_along, over, same };

// How a point was reached: from the corner `side` of an earlier point; `same` is that point's double across a cut.
struct Reached {
  double length = std::numeric_limits<double>::infinity();
  std::uint32_t from = 0;
  SideId side = kNoSide;
  Move move = Move::start;
  bool settled = false;
};

// Length of the straight line from v over the edge p q to w, the two triangles laid flat; infinity when it misses the
// edge.
double over_edge(const Vec3& v, const Vec3& p, const Vec3& q, const Vec3& w) {
  const double d = glm::length(q - p);
  const Vec3 e = (q - p) / d;
  const auto flat = [&](const Vec3& x) { return Vec2{glm::dot(x - p, e), glm::length(glm::cross(x - p, e))}; };
  const Vec2 here = flat(v), there = flat(w);
  const double share = here.y / (here.y + there.y), at = here.x + share * (there.x - here.x);
  if (!(at > 0 && at < d)) return std::numeric_limits<double>::infinity();
  return std::hypot(here.x - there.x, here.y + there.y);
}

bool cross(const Barrier& barrier, ChartPoint p, ChartPoint q) {
  const auto side = [](ChartPoint a, ChartPoint b, ChartPoint c) {
    return (b.u - a.u) * (c.v - a.v) - (b.v - a.v) * (c.u - a.u) > 0;
  };
  return side(barrier.from, barrier.to, p) != side(barrier.from, barrier.to, q) &&
         side(p, q, barrier.from) != side(p, q, barrier.to);
}

class Search {
 public:
  Search(const Chart& chart, const WallPoint& a, const WallPoint& b, const std::optional<Barrier>& barrier)
      : chart_(chart), turning_(chart), a_(a), b_(b), barrier_(barrier), goal_(position(chart.mesh(), b)) {}

  std::optional<std::vector<SideId>> run() {
    reached_.resize(chart_.mesh().points.size());
    const Vec3 from = position(chart_.mesh(), a_);
    for (SideId c = 3 * a_.triangle; c < 3 * a_.triangle + 3; ++c)
      if (!barred(chart_.address(a_), place_of(c)))
        relax(turning_.point(c), {glm::length(turning_.place(c) - from), 0, c, Move::start});
    while (!queue_.empty()) {
      const auto p = queue_.top().second;
      queue_.pop();
      if (reached_[p].settled) continue;
      reached_[p].settled = true;
      for (SideId c = 3 * b_.triangle; c < 3 * b_.triangle + 3; ++c)
        if (turning_.point(c) == p && !barred(place_of(c), chart_.address(b_))) return sides_to(p, c);
      expand(p);
    }
    return std::nullopt;
  }

 private:
  ChartPoint place_of(SideId c) const { return to_chart(chart_.places()[turning_.point(c)]); }
  bool barred(ChartPoint p, ChartPoint q) const { return barrier_ && cross(*barrier_, p, q); }

  void relax(std::uint32_t p, const Reached& by) {
    if (!(by.length < reached_[p].length)) return;
    reached_[p] = by;
    queue_.push({by.length + kBound * glm::length(chart_.mesh().points[p] - goal_), p});
  }

  // All corners round a point, both ways from the one it was reached in.
  void expand(std::uint32_t p) {
    const SideId first = corner_of(p);
    SideId c = first;
    do {
      step_from(p, c);
      c = turning_.left_of(c);
    } while (c != kNoSide && c != first);
    if (c == first) return;
    for (c = turning_.right_of(first); c != kNoSide; c = turning_.right_of(c)) step_from(p, c);
  }

  void step_from(std::uint32_t p, SideId c) {
    const double so_far = reached_[p].length;
    const SideId next = next_side(c), last = previous_side(c);
    const Vec3 here = turning_.place(c);
    const auto relax_to = [&](SideId corner, double step, Move move) {
      relax(turning_.point(corner), {so_far + step, p, c, move});
    };
    if (turning_.point(c) != p) relax_to(c, 0, Move::same);
    if (!barred(place_of(c), place_of(next))) relax_to(next, glm::length(turning_.place(next) - here), Move::along);
    if (!barred(place_of(c), place_of(last)))
      relax_to(last, glm::length(turning_.place(last) - here), Move::back_along);
    const SideId beyond = turning_.twin(next);
    if (beyond == kNoSide) return;
    const SideId opposite = previous_side(beyond);
    if (barrier_ && (turning_.is_cut(next) || barred(place_of(c), place_of(opposite)))) return;
    relax_to(opposite, over_edge(here, turning_.place(next), turning_.place(last), turning_.place(opposite)),
             Move::over);
  }

  // The corner in which a point was reached.
  SideId corner_of(std::uint32_t p) const {
    const Reached& r = reached_[p];
    switch (r.move) {
      case Move::along:
        return next_side(r.side);
      case Move::back_along:
        return previous_side(r.side);
      case Move::over:
        return previous_side(turning_.twin(next_side(r.side)));
      default:
        return r.side;
    }
  }

  // Appends the sides crossed from one corner to another at the same place, the shorter way round.
  void turn(SideId from, SideId to, std::vector<SideId>& sides) const {
    SideId left = from, right = from;
    std::vector<SideId> by_left, by_right;
    while (left != to && right != to && (left != kNoSide || right != kNoSide)) {
      if (left != kNoSide) by_left.push_back(Turning::crossed_left(left)), left = turning_.left_of(left);
      if (right != kNoSide) by_right.push_back(Turning::crossed_right(right)), right = turning_.right_of(right);
    }
    const auto& way = left == to ? by_left : by_right;
    sides.insert(sides.end(), way.begin(), way.end());
  }

  std::vector<SideId> sides_to(std::uint32_t last, SideId final_corner) const {
    std::vector<std::uint32_t> points{last};
    while (reached_[points.back()].move != Move::start) points.push_back(reached_[points.back()].from);
    std::reverse(points.begin(), points.end());
    std::vector<SideId> sides;
    SideId corner = reached_[points.front()].side;
    for (std::size_t i = 1; i < points.size(); ++i) {
      const Reached& r = reached_[points[i]];
      turn(corner, r.side, sides);
      if (r.move == Move::over) sides.push_back(next_side(r.side));
      corner = corner_of(points[i]);
    }
    turn(corner, final_corner, sides);
    return sides;
  }

  static constexpr double kBound = 0.95;  // a fair scan's way may be shorter than the chords of its noise

  const Chart& chart_;
  Turning turning_;
  WallPoint a_, b_;
  const std::optional<Barrier>& barrier_;
  Vec3 goal_;
  std::vector<Reached> reached_;
  using Item = std::pair<double, std::uint32_t>;
  std::priority_queue<Item, std::vector<Item>, std::greater<>> queue_;
};

}  // namespace

std::optional<std::vector<SideId>> rough_way(const Chart& chart, const WallPoint& a, const WallPoint& b,
                                             const std::optional<Barrier>& barrier) {
  if (a.triangle == b.triangle && !barrier) return std::vector<SideId>{};
  return Search(chart, a, b, barrier).run();
}

}  // namespace pontata
