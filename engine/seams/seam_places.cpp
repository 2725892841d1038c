#include "engine/seams/seam_places.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/chart/cut_crossing.h"
#include "engine/chart/first_form.h"
#include "engine/picture/metric_grid.h"
#include "engine/seams/network_snap.h"

namespace pontata {

namespace {

Vec2 step(ChartPoint a, ChartPoint b) { return {b.u - a.u, b.v - a.v}; }

LatticePoint back_in_limit(Vec2 p) {
  const double most = static_cast<double>(kLatticeLimit) * kPitch * 0.999;
  return to_lattice({std::clamp(p.x, -most, most), std::clamp(p.y, -most, most)});
}

}  // namespace

std::optional<SeamPlace> seam_near(const ChartedWall& wall, const Network& network, ChartPoint p, double reach_m,
                                   bool border, double vertex_m) {
  const auto form = form_near(wall, p);
  const double det = form.E * form.G - form.F * form.F;
  const Vec2 box(reach_m * std::sqrt(form.G / det), reach_m * std::sqrt(form.E / det));  // of the ellipse of that reach
  std::optional<SeamPlace> best;
  for (const SeamId s : network.seams_near(back_in_limit(to_vec(p) - box), back_in_limit(to_vec(p) + box))) {
    if (network.on_border(s) != border) continue;
    const LatticePoint a = network.origin({s.value << 1}), b = network.target({s.value << 1});
    const Vec2 along = step(to_chart(a), to_chart(b)), to = step(to_chart(a), p);
    const double share = std::clamp(dot(form, along, to) / dot(form, along, along), 0.0, 1.0);
    const Vec2 off = to - share * along;
    const double away = std::sqrt(dot(form, off, off));
    if (away > reach_m || (best && away >= best->distance_m)) continue;
    best = SeamPlace{s, share, a, away, std::nullopt};
    const double length = std::sqrt(dot(form, along, along));
    if (share * length <= vertex_m && share <= 0.5) {
      best->share = 0;
      best->vertex = network.half_edge({s.value << 1}).origin;
    } else if ((1 - share) * length <= vertex_m) {
      best->share = 1, best->place = b;
      best->vertex = network.half_edge({(s.value << 1) | 1u}).origin;
    } else {
      const ChartPoint c = to_chart(a);
      best->place = on_seam(a, b, to_lattice({c.u + share * along.x, c.v + share * along.y}));
    }
  }
  return best;
}

Result<ChartPoint> place_asked(const ChartedWall& wall, ChartPoint p) {
  if (!std::isfinite(p.u) || !std::isfinite(p.v))
    return Problem{"A place is not a number", "", "Give numbers in metres."};
  if (!fits_lattice(p))
    return Problem{"A place lies kilometres outside the wall", fmt::format("at {:.4g} {:.4g}", p.u, p.v),
                   "Check the unit: places are in metres."};
  return wrap_places(*wall.chart, std::span(&p, 1)).places[0];
}

bool is_junction(const Network& n, VertexId v) {
  const HalfEdgeId h = n.vertex(v).out;
  return n.turn(n.turn(h)) != h;
}

bool is_on_border(const Network& n, VertexId v) {
  const HalfEdgeId first = n.vertex(v).out;
  HalfEdgeId h = first;
  do {
    if (n.half_edge(h).face == Network::kOutside) return true;
    h = n.turn(h);
  } while (h != first);
  return false;
}

double length_between(const ChartedWall& wall, LatticePoint a, LatticePoint b) {
  if (a == b) return 0;
  const Vec2 way = step(to_chart(a), to_chart(b));
  const auto form = form_near(wall, {to_chart(a).u + way.x / 2, to_chart(a).v + way.y / 2});
  return std::sqrt(dot(form, way, way));
}

std::vector<std::size_t> needed_points(const ChartedWall& wall, const std::vector<LatticePoint>& line,
                                       double tolerance_m, const std::vector<std::size_t>& stays) {
  std::vector<char> needed(line.size(), 0);
  needed.front() = needed.back() = 1;
  for (const std::size_t i : stays) needed[i] = 1;
  std::vector<std::pair<std::size_t, std::size_t>> open;
  for (std::size_t i = 0, from = 0; i < line.size(); ++i)
    if (needed[i] && i > 0) open.push_back({from, i}), from = i;
  while (!open.empty()) {
    const auto [first, last] = open.back();
    open.pop_back();
    const ChartPoint a = to_chart(line[first]), b = to_chart(line[last]);
    const auto form = form_near(wall, {(a.u + b.u) / 2, (a.v + b.v) / 2});
    const Vec2 along = step(a, b);
    const double squared = dot(form, along, along);
    double most = tolerance_m;
    std::size_t at = first;
    for (std::size_t i = first + 1; i < last; ++i) {
      const Vec2 to = step(a, to_chart(line[i]));
      const double share = squared > 0 ? std::clamp(dot(form, along, to) / squared, 0.0, 1.0) : 0;
      const Vec2 off = to - share * along;
      if (const double away = std::sqrt(dot(form, off, off)); away > most) most = away, at = i;
    }
    if (at == first) continue;
    needed[at] = 1;
    open.push_back({first, at});
    open.push_back({at, last});
  }
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < line.size(); ++i)
    if (needed[i]) found.push_back(i);
  return found;
}

}  // namespace pontata
