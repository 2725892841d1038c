#include "engine/chart/outline_way.h"

#include <algorithm>

#include "engine/base/crossing.h"

namespace pontata {

namespace {

constexpr int kMostSteps = 1000000;  // of one stretch of the outline

// p lies ahead of a on the way to b, all three on one line.
bool ahead(LatticePoint a, LatticePoint b, LatticePoint p) {
  return static_cast<Int128>(b.x - a.x) * (p.x - a.x) + static_cast<Int128>(b.y - a.y) * (p.y - a.y) > 0;
}

long double size(Int128 v) { return static_cast<long double>(v < 0 ? -v : v); }

}  // namespace

bool OutlineWay::run() {
  if (const auto t = mesh_.triangle_at(ring_[0])) {
    const auto v = mesh_.insert(*t, ring_[0]);
    if (!v) return false;
    come_to(*v);
    ring_[0] = mesh_.place(*v);
  } else {
    outside_ = true, out_ = ring_[0];
  }
  for (std::size_t i = 0; i < ring_.size(); ++i)
    if (!lead_to(ring_[i], ring_[(i + 1) % ring_.size()])) return false;
  return true;
}

// Goes to the next point along the way that has been made there, by the edge that leads to it.
bool OutlineWay::move_to(std::optional<std::uint32_t> next) {
  if (!next) return false;
  if (*next != at_) mesh_.mark(at_, *next);
  come_to(*next);
  return true;
}

void OutlineWay::come_to(std::uint32_t v) {
  at_ = v, outside_ = false, met_ = true;
  if (mesh_.on_border(mesh_.fan(v).front())) border_.push_back(v);  // new ones among them
}

bool OutlineWay::lead_to(LatticePoint from, LatticePoint target) {
  for (int steps = 0; steps < kMostSteps; ++steps) {
    if (outside_) {
      bool arrived = false;
      if (!enter(target, arrived)) return false;
      if (arrived) return true;
    }
    if (mesh_.place(at_) == target) return true;
    bool arrived = false, failed = false;
    if (!step(from, target, arrived, failed)) outside_ = true, out_ = mesh_.place(at_);
    if (failed) return false;
    if (arrived) return true;
  }
  return false;
}

bool OutlineWay::step(LatticePoint from, LatticePoint target, bool& arrived, bool& failed) {
  const LatticePoint here = mesh_.place(at_);
  const auto arrive = [&](std::optional<std::uint32_t> v) {
    failed = !move_to(v), arrived = true;
    return true;
  };
  const auto along = [&](CutMesh::Side edge, std::uint32_t end) {  // the edge at here that runs the same way
    if (on_segment(here, target, mesh_.place(end))) {
      failed = !move_to(end);
      return true;
    }
    return arrive(mesh_.insert_on(edge, target));
  };
  for (const CutMesh::Side s : mesh_.fan(at_)) {
    const LatticePoint p = mesh_.place(mesh_.corner(s, 1)), q = mesh_.place(mesh_.corner(s, 2));
    const int of_p = side(here, target, p), of_q = side(here, target, q);
    if (of_p == 0 && ahead(here, target, p)) return along(s, mesh_.corner(s, 1));
    if (of_q == 0 && ahead(here, target, q)) return along({s.triangle, (s.k + 2) % 3}, mesh_.corner(s, 2));
    if (of_p >= 0 || of_q <= 0) continue;
    const CutMesh::Side opposite{s.triangle, (s.k + 1) % 3};
    const int beyond = side(p, q, target);
    if (beyond > 0) return arrive(mesh_.insert(s.triangle, target));
    if (beyond == 0) return arrive(mesh_.insert_on(opposite, target));
    return cross(opposite, from, target, failed);
  }
  return false;
}

// The crossing is taken on the stretch as it was drawn, so that rounding does not add up along it.
bool OutlineWay::cross(CutMesh::Side opposite, LatticePoint from, LatticePoint target, bool& failed) {
  const LatticePoint p = mesh_.place(mesh_.corner(opposite)), q = mesh_.place(mesh_.corner(opposite, 1));
  const LatticePoint start = segments_cross(from, target, p, q) ? from : mesh_.place(at_);
  failed = !move_to(mesh_.insert_on(opposite, rounded_crossing(start, target, p, q)));
  return true;
}

void OutlineWay::hit_edge(CutMesh::Side edge, LatticePoint target, Hit& best) const {
  const LatticePoint p = mesh_.place(mesh_.corner(edge)), q = mesh_.place(mesh_.corner(edge, 1));
  if (std::max(p.x, q.x) < std::min(out_.x, target.x) || std::min(p.x, q.x) > std::max(out_.x, target.x) ||
      std::max(p.y, q.y) < std::min(out_.y, target.y) || std::min(p.y, q.y) > std::max(out_.y, target.y))
    return;
  const auto offer = [&](LatticePoint place, long double along) {
    if (along < best.along) best = {along, edge, place};
  };
  const auto offer_point = [&](LatticePoint place) {
    if (!on_segment(out_, target, place)) return;
    const Vec2 way{static_cast<double>(target.x - out_.x), static_cast<double>(target.y - out_.y)};
    const Vec2 to{static_cast<double>(place.x - out_.x), static_cast<double>(place.y - out_.y)};
    offer(place, glm::length(to) / glm::length(way));
  };
  offer_point(p);
  offer_point(q);
  if (on_segment(p, q, target)) offer(target, 1);
  if (segments_cross(out_, target, p, q)) {
    const long double before = size(orient(p, q, out_)), after = size(orient(p, q, target));
    offer(rounded_crossing(out_, target, p, q), before / (before + after));
  }
}

// Comes back to the surface where the way first meets its border; `arrived` at the target where it does not.
bool OutlineWay::enter(LatticePoint target, bool& arrived) {
  Hit best;
  for (const std::uint32_t v : border_)
    for (const CutMesh::Side s : mesh_.fan(v)) {
      if (!mesh_.on_border(s) || v == at_ || mesh_.corner(s, 1) == at_) continue;
      hit_edge(s, target, best);
    }
  if (best.along > 1) {
    out_ = target, at_ = CutMesh::kNone, arrived = true;
    return true;
  }
  const auto v = mesh_.insert_on(best.edge, best.place);
  if (!v) return false;
  come_to(*v);
  return true;
}

}  // namespace pontata
