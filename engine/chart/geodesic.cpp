#include "engine/chart/geodesic.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "engine/base/units.h"
#include "engine/chart/rough_way.h"
#include "engine/chart/straight_way.h"

namespace pontata {

namespace {

constexpr int kMostDetours = 8;

// The opening (border loop) whose rim the way bends round here; nullopt at the wall's outer end.
std::optional<std::uint32_t> opening_at(const Chart& chart, std::uint32_t point) {
  const auto edge = chart.border_edge_from(point);
  if (edge == Chart::kNoTriangle) return std::nullopt;
  const auto loop = chart.border_edges()[edge].loop;
  return loop == 0 ? std::nullopt : std::optional(loop);
}

// From the middle of an opening over the bend and on beyond the wall.
Barrier barrier_over(const Chart& chart, std::uint32_t loop, std::uint32_t point) {
  const auto& ring = chart.border_loops()[loop];
  Vec2 middle{0, 0};
  for (const auto p : ring) middle += to_vec(to_chart(chart.places()[p]));
  middle /= static_cast<double>(ring.size());
  const Vec2 out = glm::normalize(to_vec(to_chart(chart.places()[point])) - middle);
  const Vec2 end = middle + 2 * (chart.box().width + chart.box().height) * out;
  return {{middle.x, middle.y}, {end.x, end.y}};
}

StraightWay shortest(const Chart& chart, const Metric& metric, const WallPoint& a, const WallPoint& b) {
  const Turning turning(chart);
  StraightWay best = straighten(chart, metric, a, b, *rough_way(chart, a, b, std::nullopt));
  std::set<std::uint32_t> tried;
  for (std::size_t i = 0; i < best.bends.size(); ++i) {
    const auto point = turning.point(best.bends[i]);
    const auto loop = opening_at(chart, point);
    if (!loop || tried.size() >= kMostDetours || !tried.insert(*loop).second) continue;
    const auto other = rough_way(chart, a, b, barrier_over(chart, *loop, point));
    if (!other) continue;
    StraightWay way = straighten(chart, metric, a, b, *other);
    if (way.length < best.length) best = std::move(way), i = static_cast<std::size_t>(-1);
  }
  return best;
}

double length_in(const Chart& chart, const Metric& metric, const WallPoint& from, const WallPoint& to) {
  const ChartPoint p = chart.address(from), q = chart.address(to);
  const auto f = metric.first_form(from.triangle);
  const double du = q.u - p.u, dv = q.v - p.v;
  return std::sqrt(std::max(0.0, f.E * du * du + 2 * f.F * du * dv + f.G * dv * dv));
}

WallPoint on_side(SideId h, double share) {
  WallPoint p{triangle_of(h), {0, 0, 0}};
  p.weights[static_cast<int>(h % 3)] = 1 - share;
  p.weights[static_cast<int>(next_side(h) % 3)] = share;
  return p;
}

TapeLine describe(const Chart& chart, const Metric& metric, const WallPoint& a, const WallPoint& b,
                  const StraightWay& way) {
  constexpr double kSame = 1e-10;  // m
  const Turning turning(chart);
  TapeLine line;
  line.chart.emplace_back();
  const auto add = [&](const WallPoint& p) {
    const Vec3 place = position(chart.mesh(), p);
    if (line.way.empty() || glm::length(place - line.way.back()) > kSame) line.way.push_back(place);
    const ChartPoint at = chart.address(p);
    auto& piece = line.chart.back();
    if (piece.empty() || std::hypot(at.u - piece.back().u, at.v - piece.back().v) > kSame) piece.push_back(at);
  };
  WallPoint from = a;
  add(a);
  for (std::size_t i = 0; i < way.sides.size(); ++i) {
    const WallPoint to = on_side(way.sides[i], way.shares[i]);
    line.over_m += length_in(chart, metric, from, to);
    add(to);
    if (turning.is_cut(way.sides[i])) line.chart.emplace_back();
    from = on_side(turning.twin(way.sides[i]), 1 - way.shares[i]);
    add(from);
  }
  line.over_m += length_in(chart, metric, from, b);
  add(b);
  line.straight_m = glm::length(position(chart.mesh(), b) - position(chart.mesh(), a));
  return line;
}

Problem outside(ChartPoint p) {
  return {"this place lies outside the wall", "u " + format_fixed(p.u, 3) + ", v " + format_fixed(p.v, 3) + " m",
          "Measure between places on the wall."};
}

}  // namespace

Result<TapeLine> stretch_tape(const ChartedWall& wall, ChartPoint a, ChartPoint b) {
  const auto from = wall.chart->locate(a), to = wall.chart->locate(b);
  if (!from) return outside(a);
  if (!to) return outside(b);
  return describe(*wall.chart, *wall.metric, *from, *to, shortest(*wall.chart, *wall.metric, *from, *to));
}

}  // namespace pontata
