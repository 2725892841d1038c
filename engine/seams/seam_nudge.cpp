// A stretch of seams dragged: places follow by a share that falls with their distance along the seams.
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "engine/seams/network_snap.h"
#include "engine/seams/seam_moves.h"
#include "engine/seams/seam_places.h"
#include "engine/seams/seam_rails.h"
#include "engine/seams/seam_spread.h"

namespace pontata {

namespace {

constexpr double kLeastReach = 1e-3;  // m
constexpr double kLeastStep = 2e-3;   // m between nodes that a nudge adds
constexpr int kSteps = 12;            // nodes of the moved stretch within the reach
constexpr double kStraight = 5e-5;    // m: nodes of the moved stretch nearer than this to their neighbours' line go
constexpr double kPlaces = 0.05;      // m
constexpr double kFar = std::numeric_limits<double>::infinity();

// Seams one after another, no other between them, from place to place.
struct Chain {
  std::vector<HalfEdgeId> half_edges;
};

class Nudge {
 public:
  Nudge(const ChartedWall& wall, const Network& network, const MoveWords& words, double reach_m)
      : wall_(wall), network_(network), words_(words), rails_(wall, network, words), reach_(reach_m) {}

  Result<MovedSeams> run(const SeamPlace& from, Vec2 by) {
    start_ = from;
    by_ = by;
    SeamSpread spread = spread_along(wall_, network_, rails_, from, by, reach_);
    reached_ = std::move(spread.reached);
    touched_ = std::move(spread.touched);
    if (const auto slid = slide_ends(); !slid) return slid.problem();
    for (const Chain& chain : chains()) lay(chain);
    auto made = lay_anew(network_, plan_, wall_.metric->meter(), words_);
    if (!made) return made.problem();
    MovedSeams result{std::move(made->network), std::move(made->touched), most_, {}};
    for (const LatticePoint p : course_) result.course.push_back(to_chart(p));
    return result;
  }

 private:
  double away(VertexId v) const {
    const auto it = reached_.find(v);
    return it == reached_.end() ? kFar : it->second.away;
  }
  double share(double away) const { return share_at(away, reach_); }
  double length(HalfEdgeId h) const { return network_.seam(Network::seam_of(h)).length_m; }
  VertexId origin(HalfEdgeId h) const { return network_.half_edge(h).origin; }
  VertexId target(HalfEdgeId h) const { return origin(Network::twin(h)); }

  LatticePoint dragged(Vec2 place, double away, Vec2 by) const {
    const Vec2 p = place + share(away) * by;
    const double most = static_cast<double>(kLatticeLimit) * kPitch;
    return to_lattice({std::clamp(p.x, -most, most), std::clamp(p.y, -most, most)});
  }

  // Where the ends of seams go that a border or a held rim guides; all others go freely.
  Outcome slide_ends() {
    for (const auto& [v, reached] : reached_) {
      const auto rail = rails_.rail_at(v);
      if (!rail) return rail.problem();
      const ChartPoint p = to_chart(network_.vertex(v).place);
      const Vec2 to = to_vec(p) + share(reached.away) * reached.by;
      if (rail->value == kNone) {
        places_[v] = dragged(to_vec(p), reached.away, reached.by);
        if (is_junction(network_, v)) plan_.met[places_[v]] = v;
      } else if (!fits_lattice(to_chart(to))) {
        return Problem{"The seam would leave the wall", place_name(to_lattice(p)), "Move it by less."};
      } else if (const auto slid = rails_.slide(v, *rail, to_chart(to)); !slid) {
        return slid.problem();
      }
    }
    if (const auto laid = rails_.lay(plan_); !laid) return laid.problem();
    for (const auto& [v, reached] : reached_)
      if (!places_.contains(v)) places_[v] = rails_.place(v);
    return Done{};
  }

  LatticePoint place(VertexId v) const {
    const auto it = places_.find(v);
    return it == places_.end() ? network_.vertex(v).place : it->second;
  }

  // A plain node of the moved stretch: what comes in goes out along one seam.
  bool passes(VertexId v) const {
    return reached_.contains(v) && !is_junction(network_, v) && !is_on_border(network_, v);
  }

  std::vector<Chain> chains() const {
    std::vector<Chain> found;
    std::set<SeamId> left = touched_;
    while (!left.empty()) {
      HalfEdgeId first{left.begin()->value << 1};
      const HalfEdgeId begin = first;
      while (passes(origin(first)) && network_.half_edge(first).prev != begin) first = network_.half_edge(first).prev;
      if (passes(origin(first))) first = begin;  // a closed seam, all of it within reach
      Chain chain;
      for (HalfEdgeId h = first;; h = network_.half_edge(h).next) {
        chain.half_edges.push_back(h);
        left.erase(Network::seam_of(h));
        if (!passes(target(h)) || target(h) == origin(first)) break;
      }
      found.push_back(std::move(chain));
    }
    return found;
  }

  // A chain by the distance along it from its first place, on the surface. Long seams have places between.
  struct Line {
    std::vector<double> at;
    std::vector<LatticePoint> old;
    std::vector<std::size_t> ends;  // of its seams: indices into these
    std::optional<double> start;    // where the drag began
    double first = kFar, last = kFar;
    Vec2 by{0, 0};
    double away(double s) const {
      const double along = start ? std::abs(s - *start) : kFar;
      return std::min({along, first + s, last + at.back() - s});
    }
    std::size_t piece(double s) const {
      const auto after = std::upper_bound(at.begin() + 1, at.end() - 1, s);
      return static_cast<std::size_t>(after - at.begin()) - 1;
    }
    Vec2 place(double s) const {
      const std::size_t k = piece(s);
      const double gap = at[k + 1] - at[k], t = gap > 0 ? std::clamp((s - at[k]) / gap, 0.0, 1.0) : 0;
      const Vec2 a = to_vec(to_chart(old[k])), b = to_vec(to_chart(old[k + 1]));
      return a + t * (b - a);
    }
  };

  Line line_of(const Chain& chain) const {
    Line line;
    line.at = {0};
    line.old = {network_.origin(chain.half_edges[0])};
    line.ends = {0};
    const auto see = [&](VertexId v) {
      if (const auto it = reached_.find(v); it != reached_.end()) line.by = it->second.by;
      if (start_.vertex == v) line.start = line.at.back();
    };
    see(origin(chain.half_edges[0]));
    for (const HalfEdgeId h : chain.half_edges) {
      if (Network::seam_of(h) == start_.seam && !start_.vertex) {
        line.start = line.at.back() + wall_.metric->measure(network_.origin(h), start_.place).length_m;
        line.by = by_;
      }
      add_places(line, h);
      see(target(h));
    }
    line.first = away(origin(chain.half_edges.front()));
    line.last = away(target(chain.half_edges.back()));
    return line;
  }

  // Places every few centimetres: equal steps in the chart are not equal on a curved wall.
  void add_places(Line& line, HalfEdgeId h) const {
    const LatticePoint a = network_.origin(h), b = network_.target(h);
    const double begin = line.at.back();
    const int pieces = std::clamp(static_cast<int>(std::ceil(length(h) / kPlaces)), 1, 400);
    for (int k = 1; k < pieces; ++k) {
      const LatticePoint p{a.x + (b.x - a.x) * k / pieces, a.y + (b.y - a.y) * k / pieces};
      line.at.push_back(line.at.back() + wall_.metric->measure(line.old.back(), p).length_m);
      line.old.push_back(p);
    }
    line.at.push_back(std::max(line.at.back(), begin + length(h)));
    line.old.push_back(b);
    line.ends.push_back(line.at.size() - 1);
  }

  // Nodes that the line needs, those dropped that lie straight between their neighbours within reach.
  std::vector<double> nodes_of(const Line& line) const {
    std::vector<LatticePoint> places;
    std::vector<std::size_t> stays;
    for (std::size_t i = 0; i < line.ends.size(); ++i) {
      const double at = line.at[line.ends[i]];
      places.push_back(line.old[line.ends[i]]);
      if (line.away(at) >= reach_ || (line.start && std::abs(at - *line.start) < 1e-9)) stays.push_back(i);
    }
    std::vector<double> nodes;
    for (const std::size_t i : needed_points(wall_, places, kStraight, stays)) nodes.push_back(line.at[line.ends[i]]);
    return nodes;
  }

  // Where along it the line is to have nodes: those it needs, where the drag began, how far it reaches, and enough
  // between.
  std::vector<double> stops_of(const Line& line) const {
    std::vector<double> firm = nodes_of(line);
    const auto apart = [&](double s, double least) {
      return std::none_of(firm.begin(), firm.end(), [&](double f) { return std::abs(f - s) < least; });
    };
    if (line.start && apart(*line.start, 1e-6)) firm.push_back(*line.start);
    std::vector<double> limits;
    if (line.start) limits = {*line.start - reach_, *line.start + reach_};
    if (line.first < reach_) limits.push_back(reach_ - line.first);
    if (line.last < reach_) limits.push_back(line.at.back() + line.last - reach_);
    for (const double s : limits)
      if (s > 0 && s < line.at.back() && still(line.away(s)) && apart(s, kLeastStep)) firm.push_back(s);
    std::sort(firm.begin(), firm.end());
    std::vector<double> stops{firm[0]};
    for (std::size_t i = 0; i + 1 < firm.size(); ++i) {
      const double gap = firm[i + 1] - firm[i];
      const double wanted = std::min(std::ceil(gap * kSteps / reach_ - 1e-9), std::floor(gap / kLeastStep));
      const int parts = line.away(firm[i] + gap / 2) >= reach_ ? 1 : static_cast<int>(wanted);
      for (int k = 1; k < parts; ++k) stops.push_back(firm[i] + gap * k / parts);
      stops.push_back(firm[i + 1]);
    }
    return stops;
  }
  bool still(double away) const { return away >= reach_ * (1 - 1e-9); }

  void lay(const Chain& chain) {
    const Line line = line_of(chain);
    const auto stops = stops_of(line);
    std::vector<LatticePoint> points{place(origin(chain.half_edges.front()))};
    for (std::size_t i = 1; i + 1 < stops.size(); ++i) {
      const double away = line.away(stops[i]);
      const LatticePoint at = still(away) ? kept_place(line, stops[i]) : dragged(line.place(stops[i]), away, line.by);
      most_ = std::max(most_, share(away) * moved_m(line.place(stops[i]), line.by));
      if (points.back() != at) points.push_back(at);
    }
    if (const LatticePoint end = place(target(chain.half_edges.back())); points.back() != end || points.size() == 1)
      points.push_back(end);
    for (const VertexId v : {origin(chain.half_edges.front()), target(chain.half_edges.back())})
      most_ = std::max(most_, length_between(wall_, network_.vertex(v).place, place(v)));
    for (const HalfEdgeId h : chain.half_edges) plan_.lifted.push_back(Network::seam_of(h));
    const HalfEdgeId h = chain.half_edges[0];
    if (line.start) course_ = points;
    plan_.lay(std::move(points), network_.half_edge(h).face, network_.half_edge(Network::twin(h)).face);
  }

  // A place of the line that does not move: a node of it, or one put on its seam.
  LatticePoint kept_place(const Line& line, double s) const {
    for (const std::size_t i : line.ends)
      if (line.at[i] == s) return line.old[i];
    std::size_t k = 0;
    while (k + 2 < line.ends.size() && line.at[line.ends[k + 1]] < s) ++k;
    return on_seam(line.old[line.ends[k]], line.old[line.ends[k + 1]], to_lattice(to_chart(line.place(s))));
  }

  double moved_m(Vec2 old, Vec2 by) const {
    const Vec2 to = old + by;
    if (!fits_lattice(to_chart(to))) return 0;
    return length_between(wall_, to_lattice(to_chart(old)), to_lattice(to_chart(to)));
  }

  const ChartedWall& wall_;
  const Network& network_;
  const MoveWords& words_;
  Rails rails_;
  double reach_;
  SeamPlace start_;
  Vec2 by_{0, 0};
  std::map<VertexId, SeamSpread::Reached> reached_;
  std::set<SeamId> touched_;
  std::map<VertexId, LatticePoint> places_;
  Recourse plan_;
  double most_ = 0;
  std::vector<LatticePoint> course_;
};

Outcome check_drag(Vec2 by, double reach_m) {
  if (!std::isfinite(by.x) || !std::isfinite(by.y) || !fits_lattice({by.x, by.y}))
    return Problem{"The move is not a length on a wall", "", "Give two lengths, like 2cm,-5mm."};
  if (by.x == 0 && by.y == 0) return Problem{"The seam is to move by nothing", "", "Give a move."};
  if (!std::isfinite(reach_m) || reach_m < kLeastReach || reach_m > 1e4)
    return Problem{"The reach of a nudge is a length from 1 mm", "", "Give one like 20cm."};
  return Done{};
}

}  // namespace

Result<MovedSeams> nudge_seam(const ChartedWall& wall, const Network& network, ChartPoint from, Vec2 by, double reach_m,
                              const SeamHold& hold, const SeamNames& names) {
  if (const auto good = check_drag(by, reach_m); !good) return good.problem();
  const auto at = place_asked(wall, from);
  if (!at) return at.problem();
  const auto place = seam_near(wall, network, *at, kSeamNear, false, std::min(kLeastStep, reach_m / 24));
  if (!place) {
    const bool border = seam_near(wall, network, *at, kSeamNear, true, 0).has_value();
    return Problem{border ? "This is the wall's own edge, which stays" : "There is no seam within 1 cm",
                   place_name(to_lattice(*at)), "Choose a place on a seam between giornate."};
  }
  const MoveWords words{wall.chart.get(), hold, names};
  for (const HalfEdgeId h : {HalfEdgeId{place->seam.value << 1}, HalfEdgeId{(place->seam.value << 1) | 1u}})
    if (auto held = words.held(network, network.half_edge(h).face, place->place)) return *held;
  return Nudge(wall, network, words, reach_m).run(*place, by);
}

}  // namespace pontata
