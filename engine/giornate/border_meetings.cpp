// Borders of two walls that run along each other: every edge of one is set against the edges of the other near it, by a
// grid of cubes.
#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <unordered_map>

#include "engine/giornate/meetings.h"

namespace pontata {

namespace {

constexpr double kLeastCosine = 0.7071;  // edges at more than 45 degrees cross, they do not run along each other
constexpr double kLeastRun = 2.5;        // in reaches: shorter runs are crossings and corners

struct Edge {
  std::uint32_t id = 0;  // border edge of its chart
  Vec3 a, b;
};

// Those where the wall really ends, in the border's order.
std::vector<Edge> real_edges(const Chart& chart) {
  std::vector<Edge> edges;
  for (std::uint32_t e = 0; e < chart.border_edges().size(); ++e) {
    if (chart.across_cut(e) != Chart::kNoTriangle) continue;
    const auto& [t, side, loop] = chart.border_edges()[e];
    const auto& corner = chart.mesh().triangles[t];
    const auto k = static_cast<std::size_t>(side);
    edges.push_back({e, chart.mesh().points[corner[k]], chart.mesh().points[corner[(k + 1) % 3]]});
  }
  return edges;
}

class EdgeGrid {
 public:
  EdgeGrid(std::vector<Edge> edges, double reach) : edges_(std::move(edges)), reach_(reach) {
    double total = 0;
    for (const Edge& e : edges_) total += glm::length(e.b - e.a);
    cell_ = std::max(4 * reach, total / static_cast<double>(std::max<std::size_t>(1, edges_.size())));
    for (std::uint32_t i = 0; i < edges_.size(); ++i)
      visit(edges_[i], [&](std::uint64_t key) { cells_[key].push_back(i); });
  }
  const Edge& edge(std::uint32_t i) const { return edges_[i]; }

  // Edges near e, each once, in order.
  std::vector<std::uint32_t> near(const Edge& e) const {
    std::vector<std::uint32_t> found;
    visit(e, [&](std::uint64_t key) {
      if (const auto it = cells_.find(key); it != cells_.end())
        found.insert(found.end(), it->second.begin(), it->second.end());
    });
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
  }

 private:
  template <class F>
  void visit(const Edge& e, F&& f) const {
    const Vec3 lo = (glm::min(e.a, e.b) - reach_) / cell_, hi = (glm::max(e.a, e.b) + reach_) / cell_;
    const auto at = [](double x) { return static_cast<std::int64_t>(std::floor(x)); };
    for (auto x = at(lo.x); x <= at(hi.x); ++x)
      for (auto y = at(lo.y); y <= at(hi.y); ++y)
        for (auto z = at(lo.z); z <= at(hi.z); ++z) {
          constexpr std::int64_t kMask =
              (1 << 21) - 1;  // far cells may share a key; their edges are tested all the same
          f(static_cast<std::uint64_t>((x & kMask) << 42 | (y & kMask) << 21 | (z & kMask)));
        }
  }

  std::vector<Edge> edges_;
  double reach_, cell_ = 1;
  std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> cells_;
};

// e runs along f over [from, to] of e; there the place on f is at + slope s, the distance^2 c0 + 2 c1 s + c2 s^2.
struct Along {
  double from = 0, to = 1;
  std::uint32_t other = 0;
  double at = 0, slope = 0, c0 = 0, c1 = 0, c2 = 0;
  double distance2(double s) const { return c0 + s * (2 * c1 + s * c2); }
  double place(double s) const { return std::clamp(at + slope * s, 0.0, 1.0); }
};

// Leaves of [from, to] the part where lo <= at + slope s <= hi.
void keep_between(double at, double slope, double lo, double hi, double& from, double& to) {
  if (slope == 0) {
    if (at < lo || at > hi) to = from;
    return;
  }
  const double s = (lo - at) / slope, t = (hi - at) / slope;
  from = std::max(from, std::min(s, t));
  to = std::min(to, std::max(s, t));
}

std::optional<Along> run_along(const Edge& e, const Edge& f, double reach) {
  const Vec3 d = e.b - e.a, along = f.b - f.a, off = e.a - f.a;
  const double length2 = glm::dot(along, along), own = glm::length(d);
  if (!(length2 > 0) || !(own > 0)) return std::nullopt;
  const double cosine = glm::dot(d, along) / (own * std::sqrt(length2));
  if (std::abs(cosine) < kLeastCosine) return std::nullopt;
  Along found;
  found.other = f.id;
  found.at = glm::dot(off, along) / length2, found.slope = glm::dot(d, along) / length2;
  const Vec3 across = off - found.at * along, drift = d - found.slope * along;
  found.c0 = glm::dot(across, across), found.c1 = glm::dot(across, drift), found.c2 = glm::dot(drift, drift);
  keep_between(found.at, found.slope, 0, 1, found.from, found.to);
  const double above = found.c0 - reach * reach;
  if (found.c2 > 1e-24) {
    const double root = found.c1 * found.c1 - found.c2 * above;
    if (root < 0) return std::nullopt;
    found.from = std::max(found.from, (-found.c1 - std::sqrt(root)) / found.c2);
    found.to = std::min(found.to, (-found.c1 + std::sqrt(root)) / found.c2);
  } else if (above > 0) {
    return std::nullopt;
  }
  if (!(found.to > found.from)) return std::nullopt;
  return found;
}

// Of several that e runs along at one place the nearest counts.
void add_nearest(const Edge& e, const std::vector<Along>& all, std::vector<BorderMeeting>& out) {
  std::vector<double> breaks;
  for (const Along& a : all) breaks.push_back(a.from), breaks.push_back(a.to);
  std::sort(breaks.begin(), breaks.end());
  std::uint32_t last = Chart::kNoTriangle;
  for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
    const double from = breaks[i], to = breaks[i + 1], middle = 0.5 * (from + to);
    const Along* best = nullptr;
    for (const Along& a : all)
      if (a.from <= from && a.to >= to && (!best || a.distance2(middle) < best->distance2(middle))) best = &a;
    if (to <= from) continue;
    if (!best) {
      last = Chart::kNoTriangle;
    } else if (last == best->other) {
      out.back().to = to, out.back().other_to = best->place(to);
    } else {
      out.push_back({e.id, from, to, best->other, best->place(from), best->place(to)});
      last = best->other;
    }
  }
}

// Meetings of one loop, in order: gaps that only come from corners are closed, runs too short to be an edge dropped.
class Runs {
 public:
  Runs(const Chart& chart, double reach, std::vector<BorderMeeting>& out) : chart_(chart), reach_(reach), out_(out) {}

  void take(std::vector<BorderMeeting> meetings) {
    if (meetings.empty()) return;
    std::vector<char> joined(meetings.size(), 0);  // to the one before, in the round
    for (std::size_t i = 0; i < meetings.size(); ++i) {
      auto& before = meetings[(i + meetings.size() - 1) % meetings.size()];
      joined[i] = meetings.size() > 1 && close_gap(before, meetings[i]);
    }
    const std::size_t count = meetings.size();
    std::size_t start = 0;
    while (start < count && joined[start]) ++start;
    std::vector<char> kept(count, start == count);  // one run all round
    for (std::size_t n = 0; start < count && n < count;) {
      std::size_t end = n + 1;
      double length = length_of(meetings[(start + n) % count]);
      for (; end < count && joined[(start + end) % count]; ++end) length += length_of(meetings[(start + end) % count]);
      for (std::size_t i = n; i < end; ++i) kept[(start + i) % count] = length >= kLeastRun * reach_;
      n = end;
    }
    for (std::size_t i = 0; i < count; ++i)
      if (kept[i]) out_.push_back(meetings[i]);
  }

 private:
  Vec3 point(std::uint32_t e, double along) const {
    const auto& [t, side, loop] = chart_.border_edges()[e];
    const auto& corner = chart_.mesh().triangles[t];
    const auto k = static_cast<std::size_t>(side);
    const Vec3 a = chart_.mesh().points[corner[k]], b = chart_.mesh().points[corner[(k + 1) % 3]];
    return a + along * (b - a);
  }
  double length_of(const BorderMeeting& m) const { return glm::length(point(m.edge, m.to) - point(m.edge, m.from)); }
  std::uint32_t next_edge(std::uint32_t e) const {
    const auto [begin, end] = chart_.loop_range(chart_.border_edges()[e].loop);
    return e + 1 == end ? begin : e + 1;
  }
  bool close_gap(BorderMeeting& before, BorderMeeting& after) const {
    const bool same = before.edge == after.edge && before.to <= after.from;
    if (!same && next_edge(before.edge) != after.edge) return false;
    if (glm::length(point(before.edge, before.to) - point(after.edge, after.from)) > reach_) return false;
    if (same)
      before.to = after.from;
    else
      before.to = 1, after.from = 0;
    return true;
  }

  const Chart& chart_;
  double reach_;
  std::vector<BorderMeeting>& out_;
};

bool boxes_apart(const std::vector<Edge>& one, const std::vector<Edge>& other, double reach) {
  const auto box = [](const std::vector<Edge>& edges) {
    std::array<Vec3, 2> b{Vec3(INFINITY), Vec3(-INFINITY)};
    for (const Edge& e : edges) b = {glm::min(b[0], glm::min(e.a, e.b)), glm::max(b[1], glm::max(e.a, e.b))};
    return b;
  };
  const auto a = box(one), b = box(other);
  for (int k = 0; k < 3; ++k)
    if (a[0][k] > b[1][k] + reach || b[0][k] > a[1][k] + reach) return true;
  return false;
}

}  // namespace

std::vector<BorderMeeting> border_meetings(const ChartedWall& wall, const ChartedWall& other, double reach_m) {
  const auto edges = real_edges(*wall.chart);
  auto others = real_edges(*other.chart);
  std::vector<BorderMeeting> found;
  if (boxes_apart(edges, others, reach_m)) return found;
  const EdgeGrid grid(std::move(others), reach_m);
  Runs runs(*wall.chart, reach_m, found);
  std::vector<BorderMeeting> loop;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const auto loop_of = [&](const Edge& e) { return wall.chart->border_edges()[e.id].loop; };
    std::vector<Along> all;
    for (const auto f : grid.near(edges[i]))
      if (const auto along = run_along(edges[i], grid.edge(f), reach_m)) all.push_back(*along);
    add_nearest(edges[i], all, loop);
    if (i + 1 < edges.size() && loop_of(edges[i + 1]) == loop_of(edges[i])) continue;
    runs.take(std::move(loop));
    loop.clear();
  }
  return found;
}

}  // namespace pontata
