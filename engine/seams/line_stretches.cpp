#include "engine/seams/line_stretches.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/base/predicates.h"
#include "engine/base/vec.h"

namespace pontata {

namespace {

Vec2 between(LatticePoint from, LatticePoint to) {
  return {static_cast<double>(to.x - from.x), static_cast<double>(to.y - from.y)};
}

LatticePoint along(LatticePoint a, LatticePoint b, double t) {
  if (t <= 0) return a;
  if (t >= 1) return b;
  const Vec2 step = between(a, b) * t;
  return {a.x + std::llround(step.x), a.y + std::llround(step.y)};
}

double share_of(LatticePoint a, LatticePoint b, LatticePoint p) {
  const Vec2 step = between(a, b);
  return std::clamp(glm::dot(between(a, p), step) / glm::dot(step, step), 0.0, 1.0);
}

// Shares of the step from a to b at which it meets seams, in order.
std::vector<double> meetings(const Network& n, LatticePoint a, LatticePoint b) {
  std::vector<double> shares;
  for (const SeamId s :
       n.seams_near({std::min(a.x, b.x), std::min(a.y, b.y)}, {std::max(a.x, b.x), std::max(a.y, b.y)})) {
    const LatticePoint c = n.origin({s.value << 1}), d = n.target({s.value << 1});
    if (!segments_meet(a, b, c, d)) continue;
    if (segments_cross(a, b, c, d)) {
      const Vec2 seam = between(c, d);
      shares.push_back(std::clamp(cross2(between(a, c), seam) / cross2(between(a, b), seam), 0.0, 1.0));
      continue;
    }
    for (const LatticePoint p : {c, d})
      if (on_segment(a, b, p)) shares.push_back(share_of(a, b, p));
    if (on_segment(c, d, a)) shares.push_back(0);
    if (on_segment(c, d, b)) shares.push_back(1);
  }
  std::sort(shares.begin(), shares.end());
  shares.erase(std::unique(shares.begin(), shares.end()), shares.end());
  return shares;
}

class Walk {
 public:
  explicit Walk(const Network& network) : network_(network) {}

  void step(LatticePoint a, LatticePoint b) {
    double from = 0;
    for (const double share : meetings(network_, a, b)) {
      piece(a, b, from, share);
      end(false);
      from = share;
    }
    piece(a, b, from, 1);
  }
  void end(bool loose) {
    if (open_ && now_.owner) {
      now_.ends_loose = loose;
      found_.push_back(std::move(now_));
    }
    open_ = false;
    begun_ = true;
  }
  std::vector<LineStretch> take() { return std::move(found_); }

 private:
  void piece(LatticePoint a, LatticePoint b, double from, double to) {
    const LatticePoint p = along(a, b, from), q = along(a, b, to);
    if (p == q) return;
    if (!open_) {
      now_ = {};
      now_.inside = along(a, b, 0.5 * (from + to));
      now_.owner = network_.owner_at(now_.inside);
      now_.points.push_back(p);
      now_.begins_loose = !begun_;
      open_ = true;
    }
    begun_ = true;
    now_.points.push_back(q);
    now_.length += glm::length(between(p, q));
  }

  const Network& network_;
  std::vector<LineStretch> found_;
  LineStretch now_;
  bool open_ = false, begun_ = false;
};

}  // namespace

std::vector<LineStretch> line_stretches(const Network& network, const std::vector<LatticePoint>& line) {
  Walk walk(network);
  for (std::size_t i = 0; i + 1 < line.size(); ++i)
    if (line[i] != line[i + 1]) walk.step(line[i], line[i + 1]);
  walk.end(true);
  return walk.take();
}

}  // namespace pontata
