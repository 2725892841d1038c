#include "engine/seams/seam_follow.h"

#include <algorithm>
#include <cmath>

#include "engine/seams/seam_moves.h"
#include "engine/seams/seam_spread.h"

namespace pontata {

namespace {

constexpr int kPieces = 24;  // of the reach: the falloff is shown in about so many steps

// A seam in pieces of about the same share, by the distance of its ends and of the place taken hold of.
void add_pieces(SeamFollow& out, const Network& network, const SeamSpread& spread, const SeamPlace& start, SeamId seam,
                double reach_m) {
  const HalfEdgeId h{seam.value << 1};
  const double length = network.seam(seam).length_m;
  const auto away_of = [&](HalfEdgeId end) {
    const auto it = spread.reached.find(network.half_edge(end).origin);
    return it == spread.reached.end() ? 2 * reach_m + length : it->second.away;
  };
  const double first = away_of(h), last = away_of(Network::twin(h));
  const bool begins_here = !start.vertex && start.seam == seam;
  const auto away = [&](double t) {
    const double along = begins_here ? std::abs(t - start.share) * length : 2 * reach_m + length;
    return std::min({first + t * length, last + (1 - t) * length, along});
  };
  const Vec2 a = to_vec(to_chart(network.origin(h))), b = to_vec(to_chart(network.target(h)));
  const int count = static_cast<int>(std::clamp(std::ceil(kPieces * length / reach_m), 1.0, 4096.0));
  for (int i = 0; i < count; ++i) {
    const double t0 = static_cast<double>(i) / count, t1 = static_cast<double>(i + 1) / count;
    const double share = share_at(away((t0 + t1) / 2), reach_m);
    if (share > 0) out.pieces.push_back({to_chart(glm::mix(a, b, t0)), to_chart(glm::mix(a, b, t1)), share});
  }
}

}  // namespace

std::optional<SeamFollow> seam_follow(const ChartedWall& wall, const Network& network, ChartPoint p,
                                      const FollowReach& reach, const SeamHold& hold) {
  if (!fits_lattice(p)) return std::nullopt;
  const auto start = seam_near(wall, network, p, reach.near_m, false, reach.node_m);
  if (!start) return std::nullopt;
  SeamFollow out{to_chart(start->place), start->vertex.has_value(), {}, {}};
  const MoveWords words{wall.chart.get(), hold, {}};
  const Rails rails(wall, network, words);
  if (rails.fixed(start->seam)) return out;
  const SeamSpread spread = spread_along(wall, network, rails, *start, {0, 0}, reach.drag_m);
  for (const SeamId s : spread.touched) add_pieces(out, network, spread, *start, s, reach.drag_m);
  for (const auto& [v, reached] : spread.reached) out.nodes.push_back(to_chart(network.vertex(v).place));
  return out;
}

std::optional<ChartPoint> rim_near(const ChartedWall& wall, const Network& network, ChartPoint p, double reach_m) {
  if (!fits_lattice(p)) return std::nullopt;
  auto near = seam_near(wall, network, p, reach_m, false, 0);
  const auto border = seam_near(wall, network, p, reach_m, true, 0);
  if (border && (!near || border->distance_m < near->distance_m)) near = border;
  return near ? std::optional(to_chart(near->place)) : std::nullopt;
}

std::vector<std::vector<ChartPoint>> seams_laid(const Network& before, const Network& after) {
  std::vector<std::vector<ChartPoint>> laid;
  for (std::uint32_t s = 0; 2 * s < after.half_edge_slots(); ++s) {
    const HalfEdgeId h{2 * s};
    if (!after.alive(SeamId{s})) continue;
    const LatticePoint from = after.origin(h), to = after.target(h);
    if (2 * s < before.half_edge_slots() && before.alive(SeamId{s}) && before.origin(h) == from &&
        before.target(h) == to)
      continue;
    laid.push_back({to_chart(from), to_chart(to)});
  }
  return laid;
}

Result<Network> without_seam(const ChartedWall& wall, const Network& network, ChartPoint p) {
  const auto start = fits_lattice(p) ? seam_near(wall, network, p, kSeamNear, false, 0) : std::nullopt;
  if (!start) return Problem{"There is no seam within 1 cm", "", "Choose a place on a seam between giornate."};
  const EdgeMeter meter = wall.metric->meter();
  NetworkEditor editor(network, meter);
  std::set<SeamId> open{start->seam};
  for (HalfEdgeId h : {HalfEdgeId{start->seam.value << 1}, HalfEdgeId{(start->seam.value << 1) | 1u}}) {
    const auto ends = [&] {
      const VertexId v = network.half_edge(Network::twin(h)).origin;
      return is_junction(network, v) || is_on_border(network, v);
    };
    while (!ends()) {
      h = network.half_edge(h).next;
      if (!open.insert(Network::seam_of(h)).second) break;  // round an island
    }
  }
  for (const SeamId s : open)
    if (editor.network().alive(s)) editor.open_seam(s);
  if (!editor.settle() || !editor.measure_new())
    return Problem{"The seam cannot be opened there", "", "Draw the line without hugging."};
  return editor.take();
}

}  // namespace pontata
