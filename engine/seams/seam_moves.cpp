// Nodes of seams: found, moved, added, taken away. Stretches of seam: seam_nudge.cpp, seam_redraw.cpp.
#include "engine/seams/seam_moves.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "engine/chart/first_form.h"
#include "engine/picture/metric_grid.h"
#include "engine/seams/network_snap.h"
#include "engine/seams/seam_places.h"
#include "engine/seams/seam_rails.h"

namespace pontata {

namespace {

constexpr double kOneNode = 5e-4;  // m: a place that near to a node is it

Problem no_node(ChartPoint at) {
  return {"There is no node of a seam within 1 cm", place_name(to_lattice(at)),
          "Choose a place where a seam bends or seams meet."};
}

std::vector<HalfEdgeId> leaving(const Network& n, VertexId v) {
  std::vector<HalfEdgeId> all;
  const HalfEdgeId first = n.vertex(v).out;
  HalfEdgeId h = first;
  do {
    all.push_back(h);
    h = n.turn(h);
  } while (h != first);
  return all;
}

MovedSeams moved(Relaid made, double most_m, std::vector<LatticePoint> course) {
  MovedSeams result{std::move(made.network), std::move(made.touched), most_m, {}};
  for (const LatticePoint p : course) result.course.push_back(to_chart(p));
  return result;
}

// Nodes by where they come to lie.
using Moves = std::map<VertexId, LatticePoint>;

// The seams that meet at the nodes and do not keep their course, led to the nodes' new places. The course from
// neighbour to neighbour.
std::vector<LatticePoint> lead_to(const Network& n, const Rails& rails, const Moves& moves, Recourse& plan) {
  std::vector<LatticePoint> course;
  std::set<SeamId> done;
  const auto place = [&](VertexId v) {
    const auto it = moves.find(v);
    return it == moves.end() ? n.vertex(v).place : it->second;
  };
  for (const auto& [v, to] : moves) {
    plan.met[to] = v;
    for (const HalfEdgeId h : leaving(n, v)) {
      if (rails.fixed(Network::seam_of(h)) || !done.insert(Network::seam_of(h)).second) continue;
      const LatticePoint end = place(n.half_edge(Network::twin(h)).origin);
      plan.lifted.push_back(Network::seam_of(h));
      plan.lay({to, end}, n.half_edge(h).face, n.half_edge(Network::twin(h)).face);
      if (course.empty())
        course = {end, to};
      else if (course.back() == to)
        course.push_back(end);
    }
  }
  return course;
}

Problem border_node(LatticePoint p) {
  return {"This is a corner of the wall's own edge, which stays", place_name(p), "Choose a node of a seam."};
}

// A node between seams that all keep their course.
std::optional<Problem> stays(const Network& n, const Rails& rails, VertexId v, const MoveWords& words) {
  for (const HalfEdgeId h : leaving(n, v))
    if (!rails.fixed(Network::seam_of(h))) return std::nullopt;
  for (const HalfEdgeId h : leaving(n, v))
    if (auto held = words.held(n, n.half_edge(h).face, n.vertex(v).place)) return held;
  return border_node(n.vertex(v).place);
}

}  // namespace

std::optional<VertexId> node_near(const ChartedWall& wall, const Network& network, ChartPoint p, double reach_m) {
  if (!std::isfinite(p.u) || !std::isfinite(p.v) || !fits_lattice(p) || !(reach_m > 0)) return std::nullopt;
  const auto form = form_near(wall, p);
  const double det = form.E * form.G - form.F * form.F;
  const double du = reach_m * std::sqrt(form.G / det), dv = reach_m * std::sqrt(form.E / det);
  if (!fits_lattice({p.u - du, p.v - dv}) || !fits_lattice({p.u + du, p.v + dv})) return std::nullopt;
  std::optional<VertexId> best;
  double least = reach_m;
  for (const SeamId s : network.seams_near(to_lattice({p.u - du, p.v - dv}), to_lattice({p.u + du, p.v + dv}))) {
    if (network.on_border(s)) continue;
    for (const HalfEdgeId h : {HalfEdgeId{s.value << 1}, HalfEdgeId{(s.value << 1) | 1u}}) {
      const ChartPoint q = to_chart(network.origin(h));
      const Vec2 off(q.u - p.u, q.v - p.v);
      if (const double away = std::sqrt(dot(form, off, off)); away <= least) {
        least = away;
        best = network.half_edge(h).origin;
      }
    }
  }
  return best;
}

Result<MovedSeams> move_node(const ChartedWall& wall, const Network& network, ChartPoint at, ChartPoint to,
                             const SeamHold& hold, const SeamNames& names) {
  const auto from = place_asked(wall, at), goal = place_asked(wall, to);
  if (!from) return from.problem();
  if (!goal) return goal.problem();
  const auto v = node_near(wall, network, *from, kSeamNear);
  if (!v) return no_node(*from);
  const MoveWords words{wall.chart.get(), hold, names};
  Rails rails(wall, network, words);
  Recourse plan;
  const auto rail = rails.rail_at(*v);
  if (!rail) return rail.problem();
  if (const auto still = stays(network, rails, *v, words)) return *still;
  Moves moves;
  if (rail->value == kNone) {
    moves[*v] = to_lattice(*goal);
  } else {
    if (const auto slid = rails.slide(*v, *rail, *goal); !slid) return slid.problem();
    if (const auto laid = rails.lay(plan); !laid) return laid.problem();
    moves[*v] = rails.place(*v);
    if (const auto other = rails.counterpart(*v)) moves[*other] = rails.place(*other);
  }
  double most = 0;
  for (const auto& [node, place] : moves)
    most = std::max(most, length_between(wall, network.vertex(node).place, place));
  if (most == 0) return Problem{"The node lies there already", place_name(to_lattice(*goal)), "Choose another place."};
  auto course = lead_to(network, rails, moves, plan);
  auto made = lay_anew(network, plan, wall.metric->meter(), words);
  if (!made) return made.problem();
  return moved(std::move(*made), most, std::move(course));
}

Result<MovedSeams> add_node(const ChartedWall& wall, const Network& network, ChartPoint at, const SeamHold& hold,
                            const SeamNames& names) {
  const auto from = place_asked(wall, at);
  if (!from) return from.problem();
  const auto place = seam_near(wall, network, *from, kSeamNear, false, kOneNode);
  if (!place)
    return Problem{"There is no seam within 1 cm", place_name(to_lattice(*from)),
                   "Choose a place on a seam; the wall's own edge stays as it is."};
  if (place->vertex)
    return Problem{"The seam has a node there already", place_name(place->place), "Choose a place between two nodes."};
  const HalfEdgeId h{place->seam.value << 1};
  Recourse plan;
  plan.lifted = {place->seam};
  plan.lay({network.origin(h), place->place, network.target(h)}, network.half_edge(h).face,
           network.half_edge(Network::twin(h)).face);
  auto made = lay_anew(network, plan, wall.metric->meter(), {wall.chart.get(), hold, names});
  if (!made) return made.problem();
  return moved(std::move(*made), 0, plan.laid[0].points);
}

Result<MovedSeams> remove_node(const ChartedWall& wall, const Network& network, ChartPoint at, const SeamHold& hold,
                               const SeamNames& names) {
  const auto from = place_asked(wall, at);
  if (!from) return from.problem();
  const auto v = node_near(wall, network, *from, kSeamNear);
  if (!v) {
    const auto border = seam_near(wall, network, *from, kSeamNear, true, kSeamNear);
    return border && border->vertex ? border_node(border->place) : no_node(*from);
  }
  const LatticePoint place = network.vertex(*v).place;
  if (is_junction(network, *v) || is_on_border(network, *v))
    return Problem{"Seams meet here; this node cannot be taken away", place_name(place),
                   "Move it, or join two of the giornate around it."};
  const HalfEdgeId out = network.vertex(*v).out, in = network.half_edge(out).prev;
  const LatticePoint a = network.origin(in), b = network.target(out);
  const MoveWords words{wall.chart.get(), hold, names};
  Recourse plan;
  plan.lifted = {Network::seam_of(in), Network::seam_of(out)};
  plan.lay({a, b}, network.half_edge(out).face, network.half_edge(Network::twin(out)).face);
  const Vec2 along(to_chart(b).u - to_chart(a).u, to_chart(b).v - to_chart(a).v);
  const Vec2 to(to_chart(place).u - to_chart(a).u, to_chart(place).v - to_chart(a).v);
  const double share = std::clamp(glm::dot(to, along) / glm::dot(along, along), 0.0, 1.0);
  auto made = lay_anew(network, plan, wall.metric->meter(), words);
  if (!made) return made.problem();
  const LatticePoint foot = to_lattice({to_chart(a).u + share * along.x, to_chart(a).v + share * along.y});
  return moved(std::move(*made), length_between(wall, place, foot), {a, b});
}

}  // namespace pontata
