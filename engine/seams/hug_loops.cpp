#include "engine/seams/hug_loops.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "engine/base/predicates.h"

namespace pontata {

namespace {

double distance(LatticePoint a, LatticePoint b) {
  return std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y)) * kPitch;
}

// Lattice point nearest to where the crossing segments a b and c d cross.
LatticePoint crossing(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d) {
  const double s = static_cast<double>(orient(c, d, a)), t = static_cast<double>(orient(c, d, b));
  const double share = s / (s - t);
  return {a.x + std::llround(share * static_cast<double>(b.x - a.x)),
          a.y + std::llround(share * static_cast<double>(b.y - a.y))};
}

// First point along a -> b, other than a, that segment c d shares.
std::optional<LatticePoint> first_shared(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d) {
  if (std::max(a.x, b.x) < std::min(c.x, d.x) || std::max(c.x, d.x) < std::min(a.x, b.x)) return std::nullopt;
  if (std::max(a.y, b.y) < std::min(c.y, d.y) || std::max(c.y, d.y) < std::min(a.y, b.y)) return std::nullopt;
  if (segments_cross(a, b, c, d)) return crossing(a, b, c, d);
  std::optional<LatticePoint> best;
  const auto offer = [&](LatticePoint p) {
    if (p != a && (!best || distance(a, p) < distance(a, *best))) best = p;
  };
  if (on_segment(a, b, c)) offer(c);
  if (on_segment(a, b, d)) offer(d);
  if (on_segment(c, d, b)) offer(b);
  return best;
}

struct Box {
  LatticePoint low, high;
  void take(LatticePoint p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  bool meets(const Box& o) const {
    return low.x <= o.high.x && o.low.x <= high.x && low.y <= o.high.y && o.low.y <= high.y;
  }
};

class LoopCutter {
 public:
  LoopCutter(double long_loop_m, bool closed) : long_loop_(long_loop_m), closed_(closed) {}

  bool ring = false;
  std::optional<ChartPoint> long_loop;

  void add(LatticePoint q, HugKind kind) {
    while (!ring && !points_.empty() && q != points_.back() && step_back(q)) {
    }
    while (!ring && !points_.empty() && q != points_.back()) {
      const auto hit = first_hit(q);
      if (!hit) break;
      cut(*hit);
    }
    if (!ring && (points_.empty() || q != points_.back())) push(q, kind);
  }
  HugPath path() const {
    HugPath out;
    for (std::size_t k = 0; k < points_.size(); ++k) out.add(to_vec(to_chart(points_[k])), kinds_[k]);
    return out;
  }

 private:
  struct Hit {
    std::size_t segment;  // from points_[segment]
    LatticePoint at;
  };

  void push(LatticePoint p, HugKind kind) {
    if (!points_.empty()) {
      const std::size_t block = (points_.size() - 1) / kBlock;
      if (block >= boxes_.size()) boxes_.resize(block + 1, Box{p, p});
      boxes_[block].take(points_.back());
      boxes_[block].take(p);
    }
    walked_.push_back(points_.empty() ? 0 : walked_.back() + distance(points_.back(), p));
    points_.push_back(p);
    kinds_.push_back(kind);
  }
  void pop() {
    points_.pop_back();
    kinds_.pop_back();
    walked_.pop_back();
  }

  // The way to q runs straight back over the last piece: drop its end. True when something was dropped.
  bool step_back(LatticePoint q) {
    if (points_.size() < 2) return false;
    const LatticePoint back = points_.back(), before = points_[points_.size() - 2];
    if (orient(before, back, q) != 0) return false;
    const auto forward = static_cast<Int128>(back.x - before.x) * (q.x - back.x) +
                         static_cast<Int128>(back.y - before.y) * (q.y - back.y);
    if (forward >= 0) return false;
    pop();
    return true;
  }

  std::optional<Hit> first_hit(LatticePoint q) const {
    std::optional<Hit> best;
    const LatticePoint back = points_.back();
    Box way{back, back};
    way.take(q);
    for (std::size_t s = 0; s + 2 < points_.size(); ++s) {
      if (s % kBlock == 0 && !boxes_[s / kBlock].meets(way)) {
        s += kBlock - 1;
        continue;
      }
      const auto p = first_shared(back, q, points_[s], points_[s + 1]);
      if (p && (!best || distance(back, *p) < distance(back, best->at))) best = Hit{s, *p};
    }
    return best;
  }

  void cut(const Hit& hit) {
    const double head = walked_[hit.segment] + distance(points_[hit.segment], hit.at);
    const double loop = walked_.back() + distance(points_.back(), hit.at) - head;
    const bool is_long = loop > long_loop_ && loop > 2 * head;
    if (is_long && closed_) {
      ring = true;
      const auto from = static_cast<std::ptrdiff_t>(hit.segment) + 1;
      points_.erase(points_.begin(), points_.begin() + from);
      kinds_.erase(kinds_.begin(), kinds_.begin() + from);
      if (points_.front() != hit.at && points_.back() != hit.at) {
        points_.insert(points_.begin(), hit.at);
        kinds_.insert(kinds_.begin(), HugKind::free);
      }
      return;
    }
    if (is_long && !long_loop) long_loop = to_chart(hit.at);
    const HugKind kind = kinds_[hit.segment + 1];
    while (points_.size() > hit.segment + 1) pop();
    if (points_.back() != hit.at) push(hit.at, kind);
  }

  static constexpr std::size_t kBlock = 64;
  double long_loop_;
  bool closed_;
  std::vector<Box> boxes_;  // around each kBlock pieces, or more than they need
  std::vector<LatticePoint> points_;
  std::vector<HugKind> kinds_;  // of the piece that ends at the point
  std::vector<double> walked_;
};

}  // namespace

UncrossedPath cut_loops(const HugPath& path, double long_loop_m, bool closed) {
  LoopCutter cutter(long_loop_m, closed);
  for (std::size_t k = 0; k < path.at.size(); ++k) {
    cutter.add(to_lattice(to_chart(path.at[k])), k == 0 ? HugKind::free : path.kind[k - 1]);
  }
  return {cutter.path(), cutter.ring, cutter.long_loop};
}

std::optional<ChartPoint> meets(const HugPath& path, const HugPath& stroke) {
  std::vector<LatticePoint> line, other;
  for (const auto& p : path.at) line.push_back(to_lattice(to_chart(p)));
  for (const auto& p : stroke.at) other.push_back(to_lattice(to_chart(p)));
  for (std::size_t k = 0; k + 1 < other.size(); ++k) {
    for (std::size_t s = 0; s + 1 < line.size(); ++s) {
      const auto p = first_shared(other[k], other[k + 1], line[s], line[s + 1]);
      if (!p) continue;
      const bool at_ends = (*p == line.front() && k + 2 == other.size()) || (*p == line.back() && k == 0);
      if (!at_ends) return to_chart(*p);
    }
  }
  return std::nullopt;
}

}  // namespace pontata
