#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/predicates.h"
#include "engine/base/units.h"
#include "engine/review/rules.h"

namespace pontata {

namespace {

constexpr double kRimSlack = 0.001;  // m: a seam no deeper inside than this runs along the rim

// p lies on the segment, to the rounding of a slanting border to the lattice.
bool near_segment(LatticePoint p, LatticePoint a, LatticePoint b) {
  constexpr double kNear = 6 * kPitch;
  const Vec2 from = to_vec(to_chart(a)), along = to_vec(to_chart(b)) - from, to = to_vec(to_chart(p)) - from;
  const double share = std::clamp(glm::dot(to, along) / glm::dot(along, along), 0.0, 1.0);
  return glm::length(to - share * along) <= kNear;
}

bool lies_on_cut(const Chart& chart, LatticePoint a, LatticePoint b) {
  for (std::uint32_t e = 0; e < chart.border_edges().size(); ++e)
    if (chart.across_cut(e) != Chart::kNoTriangle && near_segment(a, chart.border_start(e), chart.border_end(e)) &&
        near_segment(b, chart.border_start(e), chart.border_end(e)))
      return true;
  return false;
}

// One part of a zone; the whole of it unless it crosses cuts.
struct ZoneShape {
  Ring ring;
  std::vector<bool> on_cut;  // per segment: it lies along a cut inside the zone, and is no rim
  Ring doubled;              // so that the middle of two lattice points is one too
  LatticePoint low, high;

  ZoneShape(const Chart& chart, const Ring& r, bool in_parts) : ring(r), low(r.front()), high(r.front()) {
    for (std::size_t i = 0; i < r.size(); ++i)
      on_cut.push_back(in_parts && lies_on_cut(chart, r[i], r[(i + 1) % r.size()]));
    for (const LatticePoint& p : r) {
      doubled.push_back({2 * p.x, 2 * p.y});
      low = {std::min(low.x, p.x), std::min(low.y, p.y)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
  }
};

// Some of the open segment a b lies strictly inside the ring. Exact.
bool enters(const ZoneShape& zone, LatticePoint a, LatticePoint b) {
  if (point_in_ring(zone.ring, a) > 0 || point_in_ring(zone.ring, b) > 0) return true;
  std::vector<LatticePoint> stops{a, b};
  for (std::size_t i = 0; i < zone.ring.size(); ++i) {
    const LatticePoint p = zone.ring[i], q = zone.ring[(i + 1) % zone.ring.size()];
    if (segments_cross(a, b, p, q)) return true;
    if (on_segment(a, b, p)) stops.push_back(p);
  }
  // No proper crossing: between stops the segment is wholly inside, outside or on the rim.
  const bool by_x = a.x != b.x;
  std::sort(stops.begin(), stops.end(),
            [by_x](LatticePoint p, LatticePoint q) { return by_x ? p.x < q.x : p.y < q.y; });
  for (std::size_t i = 0; i + 1 < stops.size(); ++i)
    if (point_in_ring(zone.doubled, {stops[i].x + stops[i + 1].x, stops[i].y + stops[i + 1].y}) > 0) return true;
  return false;
}

Vec2 place_of(LatticePoint p) { return to_vec(to_chart(p)); }

// Surface length of a chart step at p.
double length_at(const ChartedWall& wall, Vec2 p, Vec2 step) {
  const auto point = wall.chart->locate(to_chart(p));
  if (!point) return glm::length(step);
  const Metric::FirstForm g = wall.metric->first_form(point->triangle);
  return std::sqrt(std::max(0.0, g.E * step.x * step.x + 2 * g.F * step.x * step.y + g.G * step.y * step.y));
}

// Surface distance from a place inside to the zone's rim, through the chart's scale there.
double depth_inside(const ChartedWall& wall, const ZoneShape& zone, Vec2 p) {
  const Ring& ring = zone.ring;
  double least = 1e300;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    if (zone.on_cut[i]) continue;
    const Vec2 a = place_of(ring[i]), d = place_of(ring[(i + 1) % ring.size()]) - a;
    const double along = std::clamp(glm::dot(p - a, d) / glm::dot(d, d), 0.0, 1.0);
    least = std::min(least, length_at(wall, p, a + along * d - p));
  }
  return least;
}

// Parts of a b inside the ring as pairs of shares of its length.
std::vector<std::pair<double, double>> parts_inside(const ZoneShape& zone, LatticePoint a, LatticePoint b) {
  std::vector<double> cuts{0, 1};
  const Vec2 start = place_of(a), step = place_of(b) - start;
  for (std::size_t i = 0; i < zone.ring.size(); ++i) {
    const Vec2 p = place_of(zone.ring[i]), d = place_of(zone.ring[(i + 1) % zone.ring.size()]) - p;
    if (on_segment(a, b, zone.ring[i])) cuts.push_back(glm::dot(p - start, step) / glm::dot(step, step));
    if (!segments_meet(a, b, zone.ring[i], zone.ring[(i + 1) % zone.ring.size()])) continue;
    const double turn = cross2(step, d);
    if (turn != 0) cuts.push_back(std::clamp(cross2(p - start, d) / turn, 0.0, 1.0));
  }
  std::sort(cuts.begin(), cuts.end());
  std::vector<std::pair<double, double>> parts;
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    const Vec2 middle = start + 0.5 * (cuts[i] + cuts[i + 1]) * step;
    if (cuts[i + 1] > cuts[i] && point_in_ring(zone.ring, to_lattice(to_chart(middle))) > 0)
      parts.emplace_back(cuts[i], cuts[i + 1]);
  }
  return parts;
}

struct Crossing {
  double length = 0;   // m of seam inside
  double deepest = 0;  // m from the rim
  ChartPoint at;
};

void add_seam(const Case& c, const ZoneShape& zone, LatticePoint a, LatticePoint b, Crossing& sum) {
  const Vec2 start = place_of(a), step = place_of(b) - start;
  for (const auto& [s0, s1] : parts_inside(zone, a, b)) {
    sum.length += length_at(c.wall(), start + 0.5 * (s0 + s1) * step, (s1 - s0) * step);
    for (const double s : {s0, 0.75 * s0 + 0.25 * s1, 0.5 * (s0 + s1), 0.25 * s0 + 0.75 * s1, s1}) {
      const Vec2 p = start + s * step;
      const double depth = depth_inside(c.wall(), zone, p);
      if (depth <= sum.deepest) continue;
      sum.deepest = depth;
      sum.at = to_chart(p);
    }
  }
}

using Crossings = std::map<std::pair<GiornataId, GiornataId>, Crossing>;  // by the giornate beside, in order of id

// A seam along a cut inside the zone: both its sides lie on the zone's parts there.
void add_cut_seams(const Case& c, const std::vector<ZoneShape>& parts, Crossings& found) {
  const Network& n = c.network();
  const auto part_at = [&](LatticePoint p) -> const ZoneShape* {
    for (const ZoneShape& part : parts)
      for (std::size_t i = 0; i < part.ring.size(); ++i)
        if (part.on_cut[i] && near_segment(p, part.ring[i], part.ring[(i + 1) % part.ring.size()])) return &part;
    return nullptr;
  };
  const auto place = [&](HalfEdgeId h, double share) {
    return place_of(n.origin(h)) + share * (place_of(n.target(h)) - place_of(n.origin(h)));
  };
  constexpr int kPieces = 16;
  for (const CutContact& k : c.contacts) {
    const GiornataId mine = n.face(n.half_edge(k.here).face).owner, other = n.face(n.half_edge(k.there).face).owner;
    if (mine == other) continue;
    for (int i = 0; i < kPieces; ++i) {
      const double s = (i + 0.5) / kPieces;
      const Vec2 here = place(k.here, k.from_here + s * (k.to_here - k.from_here));
      const Vec2 there = place(k.there, k.to_there - s * (k.to_there - k.from_there));
      const ZoneShape* part = part_at(to_lattice(to_chart(here)));
      if (!part || !part_at(to_lattice(to_chart(there)))) continue;
      Crossing& sum = found[std::minmax(mine, other)];
      sum.length += k.length_m / kPieces;
      const double depth = depth_inside(c.wall(), *part, here);
      if (depth > sum.deepest) sum.deepest = depth, sum.at = to_chart(here);
    }
  }
}

void add_crossings(const Case& c, const ZoneShape& zone, Crossings& found) {
  const Network& n = c.network();
  for (const SeamId s : n.seams_near(zone.low, zone.high)) {
    HalfEdgeId h{2 * s.value};
    if (c.hairs.contains(n.half_edge(h).face)) h = Network::twin(h);
    const FaceId left = n.half_edge(h).face, right = n.half_edge(Network::twin(h)).face;
    if (left == Network::kOutside || right == Network::kOutside) continue;
    const GiornataId mine = n.face(left).owner, other = c.owner_across(h);
    if (mine == other || (c.hairs.contains(right) && other < mine)) continue;  // a hair's two sides count once
    if (!enters(zone, n.origin(h), n.target(h))) continue;
    const auto [first, second] = std::pair(std::min(mine, other), std::max(mine, other));
    add_seam(c, zone, n.origin(h), n.target(h), found[{first, second}]);
  }
}

Crossings crossings(const Case& c, const Zone& zone) {
  std::vector<ZoneShape> parts;
  for (const Ring& ring : zone.rings()) parts.emplace_back(*c.wall().chart, ring, !zone.more.empty());
  Crossings found;
  for (const ZoneShape& part : parts) add_crossings(c, part, found);
  if (parts.size() > 1) add_cut_seams(c, parts, found);
  return found;
}

}  // namespace

void find_crossed_zones(const Case& c, Findings& out) {
  for (const Zone& zone : c.input.zones) {
    if (zone.kind != ZoneKind::keep_whole || zone.ring.size() < 3) continue;
    for (const auto& [pair, crossing] : crossings(c, zone)) {
      if (crossing.deepest <= kRimSlack) continue;
      std::vector<GiornataId> ids;
      if (pair.first) ids.push_back(pair.first);
      ids.push_back(pair.second);
      Finding f = c.at("crosses-keep-whole", Severity::decide, ids, crossing.at);
      f.value = crossing.length;
      f.limit = 0;
      const std::string zone_name =
          zone.name.empty() ? "an area to be kept whole" : fmt::format("\"{}\", to be kept whole", zone.name);
      f.says =
          fmt::format("The seam between {} runs {} m through {}, up to {} mm deep.", c.names(pair.first, pair.second),
                      format_fixed(crossing.length, 2), zone_name, format_fixed(crossing.deepest * 1000, 0));
      f.remedy = "Redraw the seam round it, or take it wholly into one giornata.";
      out.push_back(std::move(f));
    }
  }
}

}  // namespace pontata
