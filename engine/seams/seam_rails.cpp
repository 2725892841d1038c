#include "engine/seams/seam_rails.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/chart/cut_runs.h"
#include "engine/seams/network_snap.h"

namespace pontata {

namespace {

constexpr std::int64_t kSame = 16;  // pitches: an end that near to a corner of the rim lies on it

double distance(ChartPoint a, ChartPoint b) { return std::hypot(a.u - b.u, a.v - b.v); }

bool near(LatticePoint a, LatticePoint b, std::int64_t reach) {
  return std::abs(a.x - b.x) <= reach && std::abs(a.y - b.y) <= reach;
}

}  // namespace

bool Rails::fixed(SeamId s) const {
  for (const HalfEdgeId h : {HalfEdgeId{s.value << 1}, HalfEdgeId{(s.value << 1) | 1u}}) {
    const FaceId f = network_.half_edge(h).face;
    if (f == Network::kOutside) return true;
    const GiornataId owner = network_.face(f).owner;
    if (owner && words_.hold && !words_.hold(owner).empty()) return true;
  }
  return false;
}

Result<FaceId> Rails::rail_at(VertexId v) const {
  FaceId found{kNone};
  const HalfEdgeId first = network_.vertex(v).out;
  HalfEdgeId h = first;
  std::optional<std::string> why;
  do {
    const FaceId f = network_.half_edge(h).face;
    const GiornataId owner = f == Network::kOutside ? GiornataId{} : network_.face(f).owner;
    const std::string held = owner && words_.hold ? words_.hold(owner) : std::string();
    if (f == Network::kOutside || !held.empty()) {
      if (!why || !held.empty()) why = held;
      if (found.value != kNone)
        return Problem{why->empty() ? "The end of a seam between two edges of the wall stays where it is"
                                    : "Its seams stay where they are: " + *why,
                       place_name(network_.vertex(v).place), "Choose another stretch, or a shorter reach."};
      found = f;
    }
    h = network_.turn(h);
  } while (h != first);
  return found;
}

HalfEdgeId Rails::ahead(HalfEdgeId h) const { return Network::twin(network_.half_edge(Network::twin(h)).prev); }
HalfEdgeId Rails::behind(HalfEdgeId h) const { return Network::twin(network_.half_edge(Network::twin(h)).next); }

HalfEdgeId Rails::leaving(VertexId v, FaceId rail) const {
  HalfEdgeId h = network_.vertex(v).out;
  while (network_.half_edge(Network::twin(h)).face != rail) h = network_.turn(h);
  return h;
}

bool Rails::on_cut(HalfEdgeId h) const {
  if (!wall_.chart->has_cuts() || !network_.on_border(Network::seam_of(h))) return false;
  const ChartPoint a = to_chart(network_.origin(h)), b = to_chart(network_.target(h));
  const auto edge = wall_.chart->nearest_border({(a.u + b.u) / 2, (a.v + b.v) / 2}).edge;
  return wall_.chart->across_cut(edge) != Chart::kNoTriangle;
}

// A vertex of the border itself, which it keeps.
bool Rails::corner(LatticePoint p) const {
  const auto edge = wall_.chart->nearest_border(to_chart(p)).edge;
  return p == wall_.chart->border_start(edge) || p == wall_.chart->border_end(edge);
}

Rails::Spot Rails::nearest_on(HalfEdgeId h, ChartPoint target) const {
  const ChartPoint a = to_chart(network_.origin(h)), b = to_chart(network_.target(h));
  const Vec2 along(b.u - a.u, b.v - a.v), to(target.u - a.u, target.v - a.v);
  const double share = std::clamp(glm::dot(to, along) / glm::dot(along, along), 0.0, 1.0);
  LatticePoint place = share == 0 ? network_.origin(h) : network_.target(h);
  if (share > 0 && share < 1) place = to_lattice({a.u + share * along.x, a.v + share * along.y});
  return {h, share, place};
}

// Both ways round as far as the target can lie, on the same side of the end of a cut.
Rails::Slide Rails::walk(VertexId v, FaceId rail, ChartPoint target) const {
  const HalfEdgeId out = leaving(v, rail), in = behind(out);
  const ChartPoint start = to_chart(network_.vertex(v).place);
  const double reach = 2 * distance(start, target);
  Slide best{rail, nearest_on(out, start), {in, out}};
  double least = distance(start, target);
  for (const bool forward : {true, false}) {
    const HalfEdgeId first = forward ? out : in;
    const bool cut = on_cut(out) || on_cut(in);
    std::vector<HalfEdgeId> span{forward ? in : out};
    double walked = 0;
    HalfEdgeId h = first;
    do {
      if (on_cut(h) != cut && wall_.chart->has_cuts()) break;
      span.push_back(h);
      const Spot spot = nearest_on(h, target);
      if (const double off = distance(to_chart(spot.place), target); off < least) {
        least = off;
        best = {rail, spot, span};
        best.span.push_back(forward ? ahead(h) : behind(h));
      }
      walked += distance(to_chart(network_.origin(h)), to_chart(network_.target(h)));
      h = forward ? ahead(h) : behind(h);
    } while (walked < reach && h != first);
  }
  return best;
}

std::optional<VertexId> Rails::counterpart(VertexId v) const {
  constexpr std::int64_t kApart = 12;  // pitches that rounding may put between the two sides
  const Chart& chart = *wall_.chart;
  if (!chart.has_cuts()) return std::nullopt;
  const LatticePoint p = network_.vertex(v).place;
  const auto across = chart.other_side(chart.nearest_border(to_chart(p)));
  if (!across) return std::nullopt;
  const LatticePoint q = to_lattice(border_place(chart, *across));
  if (near(p, q, kApart)) return std::nullopt;
  for (const SeamId s : network_.seams_near({q.x - kApart, q.y - kApart}, {q.x + kApart, q.y + kApart}))
    for (const HalfEdgeId h : {HalfEdgeId{s.value << 1}, HalfEdgeId{(s.value << 1) | 1u}})
      if (near(network_.origin(h), q, kApart) && network_.turn(network_.turn(h)) != h)
        return network_.half_edge(h).origin;
  return std::nullopt;
}

Outcome Rails::slide(VertexId v, FaceId rail, ChartPoint target) {
  if (slides_.contains(v)) return Done{};
  const Slide made = walk(v, rail, target);
  slides_[v] = made;
  return rail == Network::kOutside ? slide_across(v, made) : Outcome(Done{});
}

Outcome Rails::slide_across(VertexId v, const Slide& made) {
  const auto other = counterpart(v);
  if (!other || slides_.contains(*other)) return Done{};
  const Chart& chart = *wall_.chart;
  const auto across = chart.other_side(chart.nearest_border(to_chart(made.to.place)));
  if (!across)
    return Problem{"The seam would end on one side only of the line along which the chart of this wall is cut open",
                   place_name(made.to.place), "Move it by less."};
  const ChartPoint target = border_place(chart, *across);
  slides_[*other] = walk(*other, Network::kOutside, target);
  if (distance(to_chart(slides_[*other].to.place), target) > 1e-6)
    return Problem{"The two sides of the line along which the chart is cut open would part", place_name(made.to.place),
                   "Move it by less."};
  return Done{};
}

LatticePoint Rails::place(VertexId v) const {
  const auto it = places_.find(v);
  return it == places_.end() ? network_.vertex(v).place : it->second;
}

Problem Rails::passes(LatticePoint p) const {
  return {"The end of the seam would pass the end of another", place_name(p), "Move it by less."};
}

// Spans that overlap are laid together.
Outcome Rails::lay(Recourse& plan) {
  std::map<FaceId, std::set<HalfEdgeId>> taken;
  for (const auto& [v, slide] : slides_) taken[slide.rail].insert(slide.span.begin(), slide.span.end());
  for (auto& [rail, all] : taken) {
    while (!all.empty()) {
      HalfEdgeId first = *all.begin();
      const HalfEdgeId entry = first;
      while (all.contains(behind(first)) && behind(first) != entry) first = behind(first);
      if (all.contains(behind(first))) {  // the whole rim: begin where no end slides
        const HalfEdgeId begin = first;
        while (slides_.contains(network_.half_edge(first).origin))
          if ((first = ahead(first)) == begin) return passes(network_.origin(begin));
      }
      std::vector<HalfEdgeId> run;
      for (HalfEdgeId h = first; all.erase(h) > 0; h = ahead(h)) run.push_back(h);
      if (const auto laid = lay_run(plan, run, rail); !laid) return laid;
    }
  }
  return Done{};
}

Outcome Rails::lay_run(Recourse& plan, const std::vector<HalfEdgeId>& run, FaceId rail) {
  const std::size_t n = run.size();
  const auto vertex = [&](std::size_t i) {
    return network_.half_edge(i < n ? run[i] : Network::twin(run[n - 1])).origin;
  };
  const auto old_place = [&](std::size_t i) { return network_.vertex(vertex(i)).place; };
  // What lies along the run: places that stay, and ends of seams at where they come to lie.
  struct Stop {
    double at = 0;
    std::optional<std::size_t> stays, end;  // index along the run of the place, of the end's old place
  };
  std::vector<Stop> stops;
  double last_end = -1;
  for (std::size_t i = 0; i <= n; ++i) {
    const auto sliding = i < n || vertex(n) != vertex(0) ? slides_.find(vertex(i)) : slides_.end();
    const bool slides = sliding != slides_.end() && sliding->second.rail == rail;
    const bool straight = i > 0 && i < n && passes_pixel(old_place(i - 1), old_place(i + 1), old_place(i));
    const bool keeps = rail == Network::kOutside ? corner(old_place(i)) : !straight;
    if (!slides || keeps) stops.push_back({static_cast<double>(i), i, std::nullopt});
    const bool end = network_.turn(network_.turn(network_.vertex(vertex(i)).out)) != network_.vertex(vertex(i)).out;
    if (!end || i == 0 || i == n) continue;
    double at = static_cast<double>(i);
    if (slides) {
      const auto on = std::find(run.begin(), run.end(), sliding->second.to.on);
      at = static_cast<double>(on - run.begin()) + sliding->second.to.share;
    }
    if (at <= last_end) return passes(old_place(i));
    last_end = at;
    stops.push_back({at, std::nullopt, i});
  }
  std::stable_sort(stops.begin(), stops.end(), [](const Stop& a, const Stop& b) { return a.at < b.at; });
  std::vector<LatticePoint> points;           // of the rim as it is laid
  std::vector<std::size_t> kept, kept_index;  // positions in `points` of the places that stay, and where they stood
  std::vector<std::pair<std::size_t, std::size_t>> ends;  // position in `points`, index along the run
  for (std::size_t k = 0; k < stops.size(); ++k) {
    if (stops[k].stays) {
      const LatticePoint p = old_place(*stops[k].stays);
      if (!points.empty() && near(points.back(), p, kSame) && !ends.empty() && ends.back().first + 1 == points.size() &&
          (kept.empty() || kept.back() + 1 != points.size()))
        points.back() = p;  // an end just before this place lies on it
      else if (points.empty() || points.back() != p)
        points.push_back(p);
      if (!kept.empty() && kept.back() + 1 == points.size()) continue;
      kept.push_back(points.size() - 1);
      kept_index.push_back(*stops[k].stays);
      continue;
    }
    // An end: on the straight line between the places that stay.
    std::size_t after = k + 1;
    while (!stops[after].stays) ++after;
    const LatticePoint a = old_place(kept_index.back()), b = old_place(*stops[after].stays);
    const auto sliding = slides_.find(vertex(*stops[k].end));
    LatticePoint p = old_place(*stops[k].end);
    if (sliding != slides_.end() && sliding->second.rail == rail) p = sliding->second.to.place;
    if (near(p, a, kSame)) p = a;
    if (near(p, b, kSame)) p = b;
    if (p != a && p != b && !passes_pixel(a, b, p)) p = on_seam(a, b, p);
    if (points.back() != p) points.push_back(p);
    if (!ends.empty() && ends.back().first + 1 == points.size()) return passes(p);
    ends.push_back({points.size() - 1, *stops[k].end});
    places_[vertex(*stops[k].end)] = p;
    plan.met[p] = vertex(*stops[k].end);
  }
  for (const HalfEdgeId h : run) plan.lifted.push_back(Network::seam_of(h));
  std::size_t from = 0;
  FaceId left = network_.half_edge(run[0]).face;
  ends.push_back({points.size() - 1, n});
  for (const auto& [position, index] : ends) {
    if (position > from)
      plan.laid.push_back({{points.begin() + static_cast<std::ptrdiff_t>(from),
                            points.begin() + static_cast<std::ptrdiff_t>(position) + 1},
                           left,
                           rail,
                           true});
    from = position;
    if (index < n) left = network_.half_edge(run[index]).face;
  }
  for (std::size_t k = 0; k + 1 < kept.size(); ++k) {
    std::int64_t area = 0;
    for (std::size_t i = kept_index[k]; i < kept_index[k + 1]; ++i) area += area_along(network_, run[i]);
    plan.held.push_back({area,
                         {points.begin() + static_cast<std::ptrdiff_t>(kept[k]),
                          points.begin() + static_cast<std::ptrdiff_t>(kept[k + 1]) + 1}});
  }
  return Done{};
}

}  // namespace pontata
