// Area of triangle and region in common, without building the polygons in between.
//
// For a triangle with a place c inside that lies on no edge of the rings, the winding number at x is the one at c plus
// the signed edges that the line c->x crosses. So the integral of the winding number over the triangle is w(c) times
// its area plus, for each edge, the signed area of the shadow it throws away from c: the wedge it spans as seen from c
// less the triangle c P Q, where P Q is the edge's part inside. Every term is smooth in the edge's ends, so that no
// configuration is special, and all signs come from exact predicates.
#include <array>
#include <cmath>

#include "engine/base/predicates.h"
#include "engine/giornate/edge_rows.h"
#include "engine/giornate/measures.h"
#include "engine/giornate/shares.h"

namespace pontata {

namespace {

using Corners = std::array<LatticePoint, 3>;

struct Box {
  LatticePoint low, high;
  explicit Box(const Corners& c)
      : low{std::min({c[0].x, c[1].x, c[2].x}), std::min({c[0].y, c[1].y, c[2].y})},
        high{std::max({c[0].x, c[1].x, c[2].x}), std::max({c[0].y, c[1].y, c[2].y})} {}
  bool meets(LatticePoint a, LatticePoint b) const {
    return std::min(a.x, b.x) <= high.x && std::max(a.x, b.x) >= low.x && std::min(a.y, b.y) <= high.y &&
           std::max(a.y, b.y) >= low.y;
  }
};

long double real(Int128 v) { return static_cast<long double>(v); }

bool strictly_inside(const Corners& t, LatticePoint p) {
  return side(t[0], t[1], p) > 0 && side(t[1], t[2], p) > 0 && side(t[2], t[0], p) > 0;
}

// Least distance of p from the lines of the edges, in pitches; exactly 0 only on one of them.
long double clearance(std::span<const ChartEdge> edges, LatticePoint p) {
  long double least = 1e30L;
  for (const ChartEdge& e : edges) {
    const long double length =
        std::hypot(static_cast<long double>(e.to.x - e.from.x), static_cast<long double>(e.to.y - e.from.y));
    least = std::min(least, std::abs(real(orient(e.from, e.to, p))) / length);
  }
  return least;
}

// A lattice place inside the triangle, well away from the edges. The triangle's least altitude is 16 pitches (Chart).
LatticePoint lookout(const Corners& t, std::span<const ChartEdge> edges) {
  const long double good = 0.02L * std::sqrt(real(orient(t[0], t[1], t[2])));
  LatticePoint best = t[0];
  long double best_clearance = 0;
  std::uint32_t seed = 1;
  const auto next = [&seed] { return static_cast<double>((seed = seed * 1664525u + 1013904223u) >> 8) / (1 << 24); };
  for (int tries = 0; tries < 200 && best_clearance < good; ++tries) {
    const double a = tries == 0 ? 1.0 / 3 : 0.15 + 0.55 * next();
    const double b = tries == 0 ? 1.0 / 3 : 0.15 + (0.70 - a) * next();
    const auto between = [&](std::int64_t p, std::int64_t q, std::int64_t r) {
      return p + std::llround(a * static_cast<double>(q - p) + b * static_cast<double>(r - p));
    };
    const LatticePoint p{between(t[0].x, t[1].x, t[2].x), between(t[0].y, t[1].y, t[2].y)};
    if (!strictly_inside(t, p)) continue;
    const long double c = clearance(edges, p);
    if (c > best_clearance) {
      best = p;
      best_clearance = c;
    }
  }
  return best;
}

// Twice the signed area of the shadow that edge e throws from c within the triangle c a b (counter-clockwise): positive
// where the winding number beyond the edge is greater.
long double shadow(LatticePoint c, LatticePoint a, LatticePoint b, const ChartEdge& e) {
  // Distances from the three sides at both ends, in units of twice an area; inside where all are positive.
  const std::array<long double, 3> p{real(orient(c, a, e.from)), real(orient(b, c, e.from)),
                                     real(orient(a, b, e.from))};
  const std::array<long double, 3> q{real(orient(c, a, e.to)), real(orient(b, c, e.to)), real(orient(a, b, e.to))};
  long double s0 = 0, s1 = 1;
  int clip0 = -1, clip1 = -1;
  for (int k = 0; k < 3; ++k) {
    const auto i = static_cast<std::size_t>(k);
    if (p[i] <= 0 && q[i] <= 0) return 0;
    if (p[i] < 0 && p[i] / (p[i] - q[i]) > s0) s0 = p[i] / (p[i] - q[i]), clip0 = k;
    if (q[i] < 0 && p[i] / (p[i] - q[i]) < s1) s1 = p[i] / (p[i] - q[i]), clip1 = k;
  }
  if (s0 >= s1) return 0;
  // Where the ray from c through the edge's point leaves through a b: 0 at a, 1 at b.
  const auto leaves = [&](long double s, int clip) {
    if (clip == 0) return 0.0L;
    if (clip == 1) return 1.0L;
    const long double from_a = p[0] + s * (q[0] - p[0]);
    const long double from_b = p[1] + s * (q[1] - p[1]);
    return from_a / (from_a + from_b);
  };
  const long double wedge = real(orient(c, a, b)) * (leaves(s1, clip1) - leaves(s0, clip0));
  return (s1 - s0) * real(orient(c, e.from, e.to)) - wedge;
}

// Share of the triangle inside the rings, 0 to 1 for rings that bound a region.
long double share_inside(const Corners& t, const EdgeRows& rings, std::vector<ChartEdge>& near) {
  const Box box(t);
  near.clear();
  rings.visit(box.low.y, box.high.y, [&](const ChartEdge& e) {
    if (box.meets(e.from, e.to)) near.push_back(e);
  });
  if (near.empty()) return rings.winding(t[0]);
  const LatticePoint c = lookout(t, near);
  long double twice = 0;
  for (std::size_t k = 0; k < 3; ++k)
    for (const ChartEdge& e : near) twice += shadow(c, t[k], t[(k + 1) % 3], e);
  return rings.winding(c) + twice / real(orient(t[0], t[1], t[2]));
}

}  // namespace

void visit_shares(const ChartedWall& wall, std::span<const Ring> rings,
                  const std::function<void(std::uint32_t, long double)>& visit) {
  const EdgeRows rows = EdgeRows::of_rings(rings);
  if (rows.edges().empty()) return;
  const auto& places = wall.chart->places();
  const auto& triangles = wall.mesh().triangles;
  std::vector<ChartEdge> near;
  for (std::uint32_t t = 0; t < triangles.size(); ++t) {
    const Corners corners{places[triangles[t][0]], places[triangles[t][1]], places[triangles[t][2]]};
    if (!Box(corners).meets(rows.low(), rows.high())) continue;
    const long double share = share_inside(corners, rows, near);
    if (share != 0) visit(t, share);
  }
}

Vec3 terms_by_clipping(const ChartedWall& wall, std::span<const Ring> rings) {
  std::array<long double, 3> sums{};
  visit_shares(wall, rings, [&](std::uint32_t t, long double share) {
    const Vec3 terms = wall.metric->triangle_terms(t);
    for (int k = 0; k < 3; ++k) sums[static_cast<std::size_t>(k)] += share * static_cast<long double>(terms[k]);
  });
  return {static_cast<double>(sums[0]), static_cast<double>(sums[1]), static_cast<double>(sums[2])};
}

double area_by_clipping(const ChartedWall& wall, std::span<const Ring> rings) {
  return terms_by_clipping(wall, rings).x;
}

}  // namespace pontata
