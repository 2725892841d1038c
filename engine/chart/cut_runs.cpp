#include "engine/chart/cut_runs.h"

#include <algorithm>
#include <cmath>

namespace pontata {

namespace {

constexpr auto kNone = Chart::kNoTriangle;

Vec2 step_of(LatticePoint a, LatticePoint b) {
  return {static_cast<double>(b.x - a.x) * kPitch, static_cast<double>(b.y - a.y) * kPitch};
}

// Takes a to c and the direction a b to the direction c d.
ChartMotion motion_between(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d) {
  ChartMotion m;
  if (b.x - a.x == d.x - c.x && b.y - a.y == d.y - c.y) {
    m.steps = LatticePoint{c.x - a.x, c.y - a.y};
    m.shift = step_of(a, c);
    return m;
  }
  const Vec2 from = step_of(a, b), to = step_of(c, d);
  const double size = glm::length(from) * glm::length(to);
  m.cosine = glm::dot(from, to) / size;
  m.sine = cross2(from, to) / size;
  const ChartPoint turned = m.apply(to_chart(a)), goal = to_chart(c);
  m.shift = {goal.u - turned.u, goal.v - turned.v};
  return m;
}

// The other side of a border edge, against its direction: where its start and its end lie.
LatticePoint start_across(const Chart& chart, std::uint32_t e) { return chart.border_end(chart.across_cut(e)); }
LatticePoint end_across(const Chart& chart, std::uint32_t e) { return chart.border_start(chart.across_cut(e)); }

// The motion between the sides of a whole run, if there is one.
std::optional<ChartMotion> motion_of(const Chart& chart, const CutRun& run) {
  constexpr double kAgree = 3 * kPitch;
  const auto first = run.edges.front(), last = run.edges.back();
  ChartMotion m = motion_between(chart.border_start(first), chart.border_end(last), start_across(chart, first),
                                 end_across(chart, last));
  const auto agrees = [&](LatticePoint here, LatticePoint there) {
    const ChartPoint p = m.apply(to_chart(here)), q = to_chart(there);
    return std::max(std::abs(p.u - q.u), std::abs(p.v - q.v)) <= kAgree;
  };
  for (const auto e : run.edges)
    if (!agrees(chart.border_start(e), start_across(chart, e)) || !agrees(chart.border_end(e), end_across(chart, e)))
      return std::nullopt;
  return m;
}

// Both edges lie along a cut, and so do their other sides, one after the other.
bool goes_on(const Chart& chart, std::uint32_t before, std::uint32_t edge) {
  return chart.across_cut(before) != kNone && chart.across_cut(edge) != kNone &&
         start_across(chart, edge) == end_across(chart, before);
}

void widen(LatticePoint& low, LatticePoint& high, LatticePoint p) {
  low = {std::min(low.x, p.x), std::min(low.y, p.y)};
  high = {std::max(high.x, p.x), std::max(high.y, p.y)};
}

}  // namespace

ChartPoint ChartMotion::apply(ChartPoint p) const {
  return {cosine * p.u - sine * p.v + shift.x, sine * p.u + cosine * p.v + shift.y};
}

ChartMotion ChartMotion::inverse() const {
  ChartMotion m;
  m.cosine = cosine, m.sine = -sine;
  m.shift = {-(cosine * shift.x + sine * shift.y), sine * shift.x - cosine * shift.y};
  if (steps) m.steps = LatticePoint{-steps->x, -steps->y};
  return m;
}

std::vector<CutRun> cut_runs(const Chart& chart) {
  std::vector<CutRun> runs;
  if (!chart.has_cuts()) return runs;
  for (std::uint32_t l = 0; l < chart.border_loops().size(); ++l) {
    const auto [begin, end] = chart.loop_range(l);
    const std::uint32_t count = end - begin;
    std::uint32_t first = begin;  // a run is not cut where the loop's list begins
    while (first < end && goes_on(chart, first == begin ? end - 1 : first - 1, first)) ++first;
    for (std::uint32_t k = 0; k < count; ++k) {
      const std::uint32_t e = begin + (first - begin + k) % count, before = e == begin ? end - 1 : e - 1;
      if (chart.across_cut(e) == kNone) continue;
      if (k == 0 || !goes_on(chart, before, e)) runs.emplace_back();
      runs.back().edges.push_back(e);
    }
  }
  for (CutRun& run : runs) {
    run.low = run.high = chart.border_start(run.edges.front());
    run.low_across = run.high_across = start_across(chart, run.edges.front());
    for (const auto e : run.edges) {
      for (const LatticePoint p : {chart.border_start(e), chart.border_end(e)}) widen(run.low, run.high, p);
      for (const LatticePoint p : {start_across(chart, e), end_across(chart, e)})
        widen(run.low_across, run.high_across, p);
    }
    run.motion = motion_of(chart, run);
  }
  return runs;
}

ChartMotion motion_across(const Chart& chart, std::uint32_t edge) {
  return motion_between(chart.border_start(edge), chart.border_end(edge), start_across(chart, edge),
                        end_across(chart, edge));
}

std::optional<ChartPoint> place_across(const Chart& chart, ChartPoint p) {
  if (!chart.has_cuts() || !fits_lattice(p) || chart.triangle_at(to_lattice(p))) return std::nullopt;
  const auto edge = chart.nearest_border(p).edge;
  if (chart.across_cut(edge) == kNone) return std::nullopt;
  const ChartPoint q = motion_across(chart, edge).apply(p);
  if (!fits_lattice(q) || !chart.triangle_at(to_lattice(q))) return std::nullopt;
  return q;
}

ChartPoint border_place(const Chart& chart, Chart::BorderPlace at) {
  const ChartPoint a = to_chart(chart.border_start(at.edge)), b = to_chart(chart.border_end(at.edge));
  return {a.u + at.along * (b.u - a.u), a.v + at.along * (b.v - a.v)};
}

double share_along(const Chart& chart, std::uint32_t edge, LatticePoint p) {
  const Vec2 along = step_of(chart.border_start(edge), chart.border_end(edge));
  const Vec2 to = step_of(chart.border_start(edge), p);
  return std::clamp(glm::dot(to, along) / glm::dot(along, along), 0.0, 1.0);
}

}  // namespace pontata
