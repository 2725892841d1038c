#include <algorithm>
#include <cmath>
#include <map>

#include "engine/document/giornata_records.h"
#include "engine/seams/network_step.h"

namespace pontata {

namespace {

constexpr double kSame = 1e-4;  // m of chart: nearer than this is the same rim
constexpr double kRound = 1e-9;

struct Reach {
  double from = 1, to = 0;  // shares of a stretch; nothing while from > to
  void add(double a, double b) { from = std::min(from, std::max(a, 0.0)), to = std::max(to, std::min(b, 1.0)); }
};

// Where a + t d lies within kSame of p.
void add_disc(Reach& reach, Vec2 a, Vec2 d, Vec2 p) {
  const double dd = glm::dot(d, d), half = glm::dot(d, a - p), c = glm::dot(a - p, a - p) - kSame * kSame;
  const double root = half * half - dd * c;
  if (root < 0) return;
  const double from = (-half - std::sqrt(root)) / dd, to = (-half + std::sqrt(root)) / dd;
  if (from <= 1 && to >= 0) reach.add(from, to);
}

// Narrows [from, to] to where least <= value + t slope <= most.
void clip(double value, double slope, double least, double most, double& from, double& to) {
  if (slope == 0) {
    if (value < least || value > most) from = 1, to = 0;
    return;
  }
  const double at_least = (least - value) / slope, at_most = (most - value) / slope;
  from = std::max(from, std::min(at_least, at_most)), to = std::min(to, std::max(at_least, at_most));
}

// The part of stretch ab within kSame of segment cd: one interval, since that neighbourhood is convex.
Reach near(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  Reach reach;
  const Vec2 run = b - a, side = d - c;
  add_disc(reach, a, run, c);
  add_disc(reach, a, run, d);
  const double length = glm::length(side);
  const Vec2 along = side / length, across{-along.y, along.x};
  double from = 0, to = 1;
  clip(glm::dot(a - c, along), glm::dot(run, along), 0, length, from, to);
  clip(glm::dot(a - c, across), glm::dot(run, across), -kSame, kSame, from, to);
  if (from <= to) reach.add(from, to);
  return reach;
}

GiornataId beside(const Network& n, HalfEdgeId h) {
  const FaceId f = n.half_edge(h).face;
  return f == Network::kOutside ? GiornataId{} : n.face(f).owner;
}

bool on_rim(const Network& n, SeamId s, GiornataId g) {
  const HalfEdgeId h{s.value << 1};
  return (beside(n, h) == g) != (beside(n, Network::twin(h)) == g);
}

Vec2 end_of(const Network& n, SeamId s, bool target) {
  const HalfEdgeId h{s.value << 1};
  return to_vec(to_chart(target ? n.target(h) : n.origin(h)));
}

// Every place of seam s of `n` lies on the rim of g in `other`.
bool lies_on_rim(const Network& n, SeamId s, const Network& other, GiornataId g) {
  const Vec2 a = end_of(n, s, false), b = end_of(n, s, true);
  const ChartPoint lo{std::min(a.x, b.x) - kSame, std::min(a.y, b.y) - kSame};
  const ChartPoint hi{std::max(a.x, b.x) + kSame, std::max(a.y, b.y) + kSame};
  std::vector<Reach> parts;
  for (const SeamId t : other.seams_near(to_lattice(lo), to_lattice(hi)))
    if (on_rim(other, t, g)) parts.push_back(near(a, b, end_of(other, t, false), end_of(other, t, true)));
  std::sort(parts.begin(), parts.end(), [](const Reach& p, const Reach& q) { return p.from < q.from; });
  double covered = 0;
  for (const Reach& part : parts)
    if (part.from <= part.to && part.from <= covered + kRound) covered = std::max(covered, part.to);
  return covered >= 1 - kRound;
}

struct Rims {
  std::vector<SeamId> before, after;  // seams of its rim that changed
};

}  // namespace

std::vector<GiornataId> rims_changed(const Network& before, const Network& after) {
  std::map<GiornataId, Rims> rims;
  const auto add = [&](const Network& n, SeamId s, std::vector<SeamId> Rims::*list) {
    const HalfEdgeId h{s.value << 1};
    if (h.value >= n.half_edge_slots() || !n.alive(h)) return;
    for (const HalfEdgeId side : {h, Network::twin(h)})
      if (const GiornataId g = beside(n, side); g && beside(n, Network::twin(side)) != g) (rims[g].*list).push_back(s);
  };
  for (const SeamId s : NetworkStep::changed_seams(before, after)) {
    add(before, s, &Rims::before);
    add(after, s, &Rims::after);
  }
  std::vector<GiornataId> found;
  for (const auto& [g, rim] : rims) {
    const auto is_old = [&, id = g](SeamId s) { return lies_on_rim(before, s, after, id); };
    const auto is_new = [&, id = g](SeamId s) { return lies_on_rim(after, s, before, id); };
    if (!std::all_of(rim.before.begin(), rim.before.end(), is_old) ||
        !std::all_of(rim.after.begin(), rim.after.end(), is_new))
      found.push_back(g);
  }
  return found;
}

}  // namespace pontata
