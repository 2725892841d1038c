// Every turn is decided by exact side tests. Points exactly on the line count as left of it, as if the line were
// shifted a hair to the right; so the line passes no point, and each triangle is left through the one edge whose first
// point lies right and whose second lies left.

#include "engine/chart/walk.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <stdexcept>

#include "engine/base/predicates.h"

namespace pontata {

namespace {

using BorderPlace = Chart::BorderPlace;
constexpr double kTie = 1e-3;  // pitches: places on the line nearer than this are one

// Where an end of the segment lies: in a triangle, on the border, or both.
struct End {
  std::optional<std::uint32_t> triangle;
  std::optional<BorderPlace> border;
};

class Walker {
 public:
  Walker(const Chart& chart, LatticePoint a, LatticePoint b) : chart_(chart), a_(a), b_(b) {
    direction_ = {static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y)};
    length_ = glm::length(direction_);
  }

  std::vector<Stretch> run() {
    start_ = end_at(a_), end_ = end_at(b_);
    if (along_one_edge()) return std::move(out_);
    std::optional<Inside> inside;
    std::optional<Outside> outside;
    if (const auto first = first_triangle())
      inside = Inside{*first, weights_in(*first, a_)};
    else
      outside = Outside{*start_.border, 0};
    while (inside || outside) {
      if (inside) outside = cross(*inside), inside.reset();
      if (outside) inside = round_outside(*outside), outside.reset();
    }
    return std::move(out_);
  }

 private:
  // Where the walk stands between two steps: in a triangle, or where the line has left the wall, `place` pitches from
  // a.
  struct Inside {
    std::uint32_t triangle;
    Vec3 weights;
  };
  struct Outside {
    BorderPlace border;
    double place;
  };

  const Triangle& corners(std::uint32_t t) const { return chart_.mesh().triangles[t]; }
  LatticePoint corner(std::uint32_t t, int k) const {
    return chart_.places()[corners(t)[static_cast<std::size_t>(k % 3)]];
  }
  bool is_left(LatticePoint p) const { return orient(a_, b_, p) >= 0; }

  // Exact orientations, rounded once; exactly 0 and 1 at edges and corners.
  Vec3 weights_in(std::uint32_t t, LatticePoint p) const {
    const LatticePoint a = corner(t, 0), b = corner(t, 1), c = corner(t, 2);
    const double total = static_cast<double>(orient(a, b, c));
    return {static_cast<double>(orient(b, c, p)) / total, static_cast<double>(orient(c, a, p)) / total,
            static_cast<double>(orient(a, b, p)) / total};
  }

  End end_at(LatticePoint p) const {
    const auto t = chart_.triangle_at(p);
    if (!t) return {std::nullopt, chart_.nearest_border(to_chart(p))};
    for (int k = 0; k < 3; ++k) {
      const auto edge = chart_.border_edge_from(corners(*t)[static_cast<std::size_t>(k)]);
      if (edge == Chart::kNoTriangle) continue;
      if (corner(*t, k) == p) return {t, BorderPlace{edge, 0}};
      if (chart_.across(*t, k) == Chart::kNoTriangle && orient(corner(*t, k), corner(*t, k + 1), p) == 0)
        return {t, BorderPlace{edge, weights_in(*t, p)[(k + 1) % 3]}};
    }
    return {t, std::nullopt};
  }

  // A seam along a single border edge needs no search.
  bool along_one_edge() {
    if (!start_.border || !end_.border) return false;
    const auto from = *start_.border, to = *end_.border;
    if (from.edge == to.edge) return follow_edge(from.edge, from.along, to.along), true;
    if (to.along == 0 && to.edge == next_edge(from.edge)) return follow_edge(from.edge, from.along, 1), true;
    if (from.along == 0 && from.edge == next_edge(to.edge)) return follow_edge(to.edge, 1, to.along), true;
    return false;
  }

  bool is_crossed(std::uint32_t t) const {
    const bool first = is_left(corner(t, 0));
    return first != is_left(corner(t, 1)) || first != is_left(corner(t, 2));
  }

  // A triangle that holds a and that the shifted line crosses; from it the walk turns about a as far as needed.
  std::optional<std::uint32_t> first_triangle() const {
    if (!start_.triangle) return std::nullopt;
    const std::uint32_t t = *start_.triangle;
    if (is_crossed(t)) return t;
    for (int k = 0; k < 3; ++k) {
      if (corner(t, k) == a_) return crossed_about(t, corners(t)[static_cast<std::size_t>(k)]);
    }
    for (int k = 0; k < 3; ++k) {
      const auto other = chart_.across(t, k);
      if (other != Chart::kNoTriangle && orient(corner(t, k), corner(t, k + 1), a_) == 0 && is_crossed(other))
        return other;
    }
    return std::nullopt;
  }

  std::optional<std::uint32_t> crossed_about(std::uint32_t start, std::uint32_t point) const {
    for (const int turn : {2, 0}) {  // counter-clockwise over the edge that ends at the point, then the other way
      for (std::uint32_t t = start; t != Chart::kNoTriangle;) {
        if (is_crossed(t)) return t;
        const auto& c = corners(t);
        const int k = c[0] == point ? 0 : (c[1] == point ? 1 : 2);
        t = chart_.across(t, (k + turn) % 3);
        if (t == start) break;
      }
    }
    return std::nullopt;
  }

  void emit(std::uint32_t t, const Vec3& from, const Vec3& to) {
    if (from != to) out_.push_back({t, from, to});
  }

  // Walks from triangle to triangle until b (nothing comes back), or until the border.
  std::optional<Outside> cross(Inside from) {
    auto& [t, at] = from;
    for (;;) {
      int k = 0;
      while (is_left(corner(t, k)) || !is_left(corner(t, k + 1))) ++k;
      if (orient(corner(t, k), corner(t, k + 1), b_) >= 0) {
        emit(t, at, weights_in(t, b_));
        return std::nullopt;
      }
      const double share = crossing_share(corner(t, k), corner(t, k + 1));
      Vec3 leave{0, 0, 0};
      leave[k] = 1 - share, leave[(k + 1) % 3] = share;
      emit(t, at, leave);
      const auto other = chart_.across(t, k);
      if (other == Chart::kNoTriangle) {
        const auto edge = chart_.border_edge_from(corners(t)[static_cast<std::size_t>(k)]);
        const LatticePoint p = corner(t, k), q = corner(t, k + 1);
        return Outside{{edge, share}, line_place(p, q, share)};
      }
      const auto end = corners(t)[static_cast<std::size_t>((k + 1) % 3)];
      const auto& c = corners(other);
      const int j = c[0] == end ? 0 : (c[1] == end ? 1 : 2);
      at = {0, 0, 0};
      at[j] = share, at[(j + 1) % 3] = 1 - share;
      t = other;
    }
  }

  // Fraction along p->q at which the line crosses.
  double crossing_share(LatticePoint p, LatticePoint q) const {
    const double dp = static_cast<double>(orient(a_, b_, p)), dq = static_cast<double>(orient(a_, b_, q));
    return dp / (dp - dq);
  }

  // Distance from a along the line, in pitches, of the place at `share` of p->q.
  double line_place(LatticePoint p, LatticePoint q, double share) const {
    const Vec2 to_p{static_cast<double>(p.x - a_.x), static_cast<double>(p.y - a_.y)};
    const Vec2 to_q{static_cast<double>(q.x - a_.x), static_cast<double>(q.y - a_.y)};
    return glm::dot((1 - share) * to_p + share * to_q, direction_) / length_;
  }

  // Outside the wall: goes along the border to where the line enters again, or to b (nothing comes back).
  std::optional<Inside> round_outside(const Outside& from) {
    const auto entry = next_entry(chart_.border_edges()[from.border.edge].loop, from.place);
    if (end_.border && (!entry || entry->place > length_ - kTie)) {
      follow_border(from.border, *end_.border);
      return std::nullopt;
    }
    if (!entry) throw std::logic_error("walk: the wall's border is not closed");
    follow_border(from.border, {entry->edge, entry->share});
    entered_.push_back(entry->edge);
    const auto& edge = chart_.border_edges()[entry->edge];
    Inside inside{edge.triangle, {0, 0, 0}};
    inside.weights[edge.side] = 1 - entry->share, inside.weights[(edge.side + 1) % 3] = entry->share;
    return inside;
  }

  struct Entry {
    std::uint32_t edge;
    double share, place;
  };
  // First border edge of the loop, from `place` on, over which the line comes in. A straight line comes in over an edge
  // only once, which also settles ties at shared points.
  std::optional<Entry> next_entry(std::uint32_t loop, double place) const {
    std::optional<Entry> best;
    const auto [begin, end] = chart_.loop_range(loop);
    for (auto e = begin; e < end; ++e) {
      const LatticePoint p = chart_.border_start(e), q = chart_.border_end(e);
      if (!is_left(p) || is_left(q)) continue;
      const double share = crossing_share(p, q), at = line_place(p, q, share);
      if (at < place - kTie || at > length_ + kTie || (best && at >= best->place)) continue;
      if (std::find(entered_.begin(), entered_.end(), e) == entered_.end()) best = {e, share, at};
    }
    return best;
  }

  std::uint32_t next_edge(std::uint32_t e) const {
    const auto [begin, end] = chart_.loop_range(chart_.border_edges()[e].loop);
    return e + 1 == end ? begin : e + 1;
  }
  std::uint32_t previous_edge(std::uint32_t e) const {
    const auto [begin, end] = chart_.loop_range(chart_.border_edges()[e].loop);
    return e == begin ? end - 1 : e - 1;
  }

  void follow_edge(std::uint32_t e, double from, double to) {
    const auto& edge = chart_.border_edges()[e];
    Vec3 p{0, 0, 0}, q{0, 0, 0};
    p[edge.side] = 1 - from, p[(edge.side + 1) % 3] = from;
    q[edge.side] = 1 - to, q[(edge.side + 1) % 3] = to;
    emit(edge.triangle, p, q);
  }

  void follow_border(BorderPlace from, BorderPlace to) {
    if (from.edge == to.edge) return follow_edge(from.edge, from.along, to.along);
    if (is_forward(from, to)) {
      follow_edge(from.edge, from.along, 1);
      for (auto e = next_edge(from.edge); e != to.edge; e = next_edge(e)) follow_edge(e, 0, 1);
      follow_edge(to.edge, 0, to.along);
    } else {
      follow_edge(from.edge, from.along, 0);
      for (auto e = previous_edge(from.edge); e != to.edge; e = previous_edge(e)) follow_edge(e, 1, 0);
      follow_edge(to.edge, 1, to.along);
    }
  }

  Vec2 relative(BorderPlace at) const {  // pitches from a
    const LatticePoint p = chart_.border_start(at.edge), q = chart_.border_end(at.edge);
    return {static_cast<double>(p.x - a_.x) + at.along * static_cast<double>(q.x - p.x),
            static_cast<double>(p.y - a_.y) + at.along * static_cast<double>(q.y - p.y)};
  }

  // The forward way and the chord back enclose either no wall (an area of 0 or less: a pocket outside) or all that the
  // loop encloses and more; half of the loop's area tells them apart. Round a hole both ways measure alike.
  bool is_forward(BorderPlace from, BorderPlace to) const {
    double forward = 0, all = 0;
    const auto add = [](double& sum, const Vec2& p, const Vec2& q) { sum += cross2(p, q); };
    const Vec2 first = relative(from), last = relative(to);
    Vec2 p = first;
    bool reached = false;
    for (auto e = from.edge; !(reached && e == from.edge); e = next_edge(e)) {
      if (e == to.edge) {
        add(forward, p, last), add(forward, last, first), add(all, p, last);
        p = last, reached = true;
      }
      const Vec2 q = relative({e, 1});
      if (!reached) add(forward, p, q);
      add(all, p, q), p = q;
      if (next_edge(e) == from.edge) break;
    }
    add(all, p, first);
    return all >= 0 ? forward < 0.5 * all : forward > 0.5 * all;
  }

  const Chart& chart_;
  LatticePoint a_, b_;
  Vec2 direction_;
  double length_ = 0;
  End start_, end_;
  std::vector<std::uint32_t> entered_;
  std::vector<Stretch> out_;
};

}  // namespace

std::vector<Stretch> walk(const Chart& chart, LatticePoint a, LatticePoint b) {
  if (a == b) return {};
  return Walker(chart, a, b).run();
}

}  // namespace pontata
