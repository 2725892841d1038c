#include "engine/seams/seam_spread.h"

#include <algorithm>
#include <cmath>
#include <queue>

#include "engine/chart/cut_runs.h"

namespace pontata {

namespace {

// The drag as seen from the other side of the cut at p.
Vec2 turned(const Chart& chart, LatticePoint p, Vec2 by) {
  const auto motion = motion_across(chart, chart.nearest_border(to_chart(p)).edge);
  return {motion.cosine * by.x - motion.sine * by.y, motion.sine * by.x + motion.cosine * by.y};
}

}  // namespace

double share_at(double away_m, double reach_m) {
  if (away_m >= reach_m) return 0;
  const double c = std::cos(M_PI / 2 * away_m / reach_m);
  return c * c;
}

// Dijkstra, "A note on two problems in connexion with graphs", 1959.
SeamSpread spread_along(const ChartedWall& wall, const Network& network, const Rails& rails, const SeamPlace& start,
                        Vec2 by, double reach_m) {
  SeamSpread out;
  using Entry = std::pair<double, VertexId>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
  const auto origin = [&](HalfEdgeId h) { return network.half_edge(h).origin; };
  const auto length = [&](HalfEdgeId h) { return network.seam(Network::seam_of(h)).length_m; };
  const auto reach = [&](VertexId v, double away, Vec2 here) {
    const auto known = out.reached.find(v);
    if (away >= reach_m || (known != out.reached.end() && away >= known->second.away)) return;
    out.reached[v] = {away, here};
    open.push({away, v});
  };
  if (start.vertex) {
    reach(*start.vertex, 0, by);
  } else {
    const HalfEdgeId h{start.seam.value << 1};
    const double along = wall.metric->measure(network.origin(h), start.place).length_m;
    reach(origin(h), along, by);
    reach(origin(Network::twin(h)), std::max(0.0, length(h) - along), by);
    out.touched.insert(start.seam);
  }
  while (!open.empty()) {
    const auto [away, v] = open.top();
    open.pop();
    const SeamSpread::Reached here = out.reached.at(v);
    if (away > here.away) continue;
    const HalfEdgeId first = network.vertex(v).out;
    HalfEdgeId h = first;
    do {
      if (!rails.fixed(Network::seam_of(h))) {
        out.touched.insert(Network::seam_of(h));
        reach(origin(Network::twin(h)), away + length(h), here.by);
      }
      h = network.turn(h);
    } while (h != first);
    if (const auto other = is_on_border(network, v) ? rails.counterpart(v) : std::nullopt)
      reach(*other, away, turned(*wall.chart, network.vertex(v).place, here.by));
  }
  return out;
}

}  // namespace pontata
