#include "engine/base/predicates.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace pontata {

namespace {

bool in_box(LatticePoint a, LatticePoint b, LatticePoint p) {
  return std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= p.y && p.y <= std::max(a.y, b.y);
}

// 0 for directions in [0, pi), 1 for [pi, 2 pi).
int half_plane(LatticePoint a, LatticePoint b) { return b.y < a.y || (b.y == a.y && b.x < a.x); }

}  // namespace

bool on_segment(LatticePoint a, LatticePoint b, LatticePoint p) { return orient(a, b, p) == 0 && in_box(a, b, p); }

bool segments_meet(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d) {
  if (segments_cross(a, b, c, d)) return true;
  return on_segment(a, b, c) || on_segment(a, b, d) || on_segment(c, d, a) || on_segment(c, d, b);
}

bool segments_cross(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d) {
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

Int128 twice_area(std::span<const LatticePoint> ring) {
  Int128 sum = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const auto& p = ring[i];
    const auto& q = ring[(i + 1) % ring.size()];
    sum += static_cast<Int128>(p.x) * q.y - static_cast<Int128>(q.x) * p.y;
  }
  return sum;
}

int point_in_ring(std::span<const LatticePoint> ring, LatticePoint p) {
  bool inside = false;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    LatticePoint a = ring[i], b = ring[(i + 1) % ring.size()];
    if (on_segment(a, b, p)) return 0;
    if ((a.y > p.y) == (b.y > p.y)) continue;
    if (a.y > b.y) std::swap(a, b);
    if (orient(a, b, p) > 0) inside = !inside;
  }
  return inside ? 1 : -1;
}

int compare_angle(LatticePoint a, LatticePoint b, LatticePoint c) {
  const int hb = half_plane(a, b), hc = half_plane(a, c);
  if (hb != hc) return hb - hc;
  return -side(a, b, c);
}

namespace {

// Uniform grid over the ring's box; each edge is listed in the cells its own box covers, row by row so that long
// slanted edges list only the cells they pass.
class RingGrid {
 public:
  explicit RingGrid(std::span<const LatticePoint> ring) : ring_(ring), n_(static_cast<int>(ring.size())) {
    lo_ = hi_ = ring[0];
    for (const auto& p : ring) {
      lo_ = {std::min(lo_.x, p.x), std::min(lo_.y, p.y)};
      hi_ = {std::max(hi_.x, p.x), std::max(hi_.y, p.y)};
    }
    cells_ = std::clamp(static_cast<int>(std::sqrt(static_cast<double>(n_))), 1, 1024);
    width_ = static_cast<double>(hi_.x - lo_.x) / cells_ + 1;
    height_ = static_cast<double>(hi_.y - lo_.y) / cells_ + 1;
    lists_.resize(static_cast<std::size_t>(cells_) * static_cast<std::size_t>(cells_));
  }

  // Adds edge e after giving each edge that shares a cell to `f`; stops when f returns true.
  template <class F>
  bool add(int e, F&& f) {
    const LatticePoint a = ring_[static_cast<std::size_t>(e)], b = ring_[static_cast<std::size_t>((e + 1) % n_)];
    const int r0 = row(std::min(a.y, b.y)), r1 = row(std::max(a.y, b.y));
    for (int r = r0; r <= r1; ++r) {
      auto [x0, x1] = x_range(a, b, r);
      for (int c = column(x0); c <= column(x1); ++c) {
        auto& list = lists_[static_cast<std::size_t>(r) * static_cast<std::size_t>(cells_) + static_cast<std::size_t>(c)];
        for (int other : list)
          if (f(other)) return true;
        list.push_back(e);
      }
    }
    return false;
  }

 private:
  int row(std::int64_t y) const { return std::clamp(static_cast<int>(static_cast<double>(y - lo_.y) / height_), 0, cells_ - 1); }
  int column(double x) const {
    return std::clamp(static_cast<int>((x - static_cast<double>(lo_.x)) / width_), 0, cells_ - 1);
  }
  // x extent of the edge within row r, widened by two pitches against rounding.
  std::pair<double, double> x_range(LatticePoint a, LatticePoint b, int r) const {
    const double ax = static_cast<double>(a.x), bx = static_cast<double>(b.x);
    const double ay = static_cast<double>(a.y), by = static_cast<double>(b.y);
    double lo = std::min(ax, bx), hi = std::max(ax, bx);
    if (a.y != b.y) {
      const double y0 = static_cast<double>(lo_.y) + r * height_ - 2, y1 = y0 + height_ + 4;
      const double t0 = std::clamp((y0 - ay) / (by - ay), 0.0, 1.0), t1 = std::clamp((y1 - ay) / (by - ay), 0.0, 1.0);
      const double p = ax + t0 * (bx - ax), q = ax + t1 * (bx - ax);
      lo = std::max(lo, std::min(p, q));
      hi = std::min(hi, std::max(p, q));
    }
    return {lo - 2, hi + 2};
  }

  std::span<const LatticePoint> ring_;
  int n_;
  LatticePoint lo_, hi_;
  int cells_ = 1;
  double width_ = 1, height_ = 1;
  std::vector<std::vector<int>> lists_;
};

}  // namespace

RingCrossing find_self_crossing(std::span<const LatticePoint> ring) {
  const int n = static_cast<int>(ring.size());
  if (n < 3) return {};
  const auto at = [&](int i) { return ring[static_cast<std::size_t>(i % n)]; };
  RingGrid grid(ring);
  RingCrossing found;
  for (int e = 0; e < n; ++e) {
    const LatticePoint a = at(e), b = at(e + 1);
    const bool hit = grid.add(e, [&](int o) {
      if (o == e) return false;
      const LatticePoint c = at(o), d = at(o + 1);
      bool bad = false;
      if ((o + 1) % n == e)  // d == a: neighbours may meet only there
        bad = on_segment(a, b, c) || on_segment(c, d, b);
      else if ((e + 1) % n == o)  // b == c
        bad = on_segment(a, b, d) || on_segment(c, d, a);
      else
        bad = segments_meet(a, b, c, d);
      if (bad) found = {std::min(o, e), std::max(o, e)};
      return bad;
    });
    if (hit) return found;
  }
  return {};
}

}  // namespace pontata
