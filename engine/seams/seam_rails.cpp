#include "engine/seams/seam_rails.h"

#include <algorithm>
#include <cmath>
#include <limits>
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
Rails::Slide Rails::walk(VertexId v, FaceId rail, ChartPoint target, bool any_way) const {
  const HalfEdgeId out = leaving(v, rail), in = behind(out);
  const ChartPoint start = to_chart(network_.vertex(v).place);
  const double reach = any_way ? std::numeric_limits<double>::infinity() : 2 * distance(start, target);
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
  // Of the border's own seams: a junction of others may lie as near beside it.
  for (const SeamId s : network_.seams_near({q.x - kApart, q.y - kApart}, {q.x + kApart, q.y + kApart}))
    for (const HalfEdgeId h : {HalfEdgeId{s.value << 1}, HalfEdgeId{(s.value << 1) | 1u}})
      if (network_.on_border(s) && near(network_.origin(h), q, kApart) && network_.turn(network_.turn(h)) != h)
        return network_.half_edge(h).origin;
  return std::nullopt;
}

Outcome Rails::slide(VertexId v, FaceId rail, ChartPoint target, bool any_way) {
  if (slides_.contains(v)) return Done{};
  const Slide made = walk(v, rail, target, any_way);
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
  slides_[*other] = walk(*other, Network::kOutside, target, true);
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

const Rails::Slide* Rails::slide_of(VertexId v, FaceId rail) const {
  const auto it = slides_.find(v);
  return it == slides_.end() || it->second.rail != rail ? nullptr : &it->second;
}

std::vector<VertexId> Rails::junctions_beside(const SeamPlace& border) const {
  HalfEdgeId on{border.seam.value << 1};
  if (network_.half_edge(on).face == Network::kOutside) on = Network::twin(on);
  std::vector<VertexId> found;
  for (const bool forward : {true, false})
    for (HalfEdgeId h = on;;) {
      const VertexId v = network_.half_edge(forward ? Network::twin(h) : h).origin;
      if (is_junction(network_, v) && (found.empty() || found[0] != v)) {
        found.push_back(v);
        break;
      }
      h = forward ? ahead(h) : behind(h);
      if (h == on || on_cut(h) != on_cut(on)) break;
    }
  return found;
}

// The half-edges one after another, as far as they follow each other; none begins where an end slides.
std::vector<std::vector<HalfEdgeId>> Rails::runs(std::set<HalfEdgeId> all) const {
  std::vector<std::vector<HalfEdgeId>> found;
  while (!all.empty()) {
    const HalfEdgeId entry = *all.begin();
    HalfEdgeId first = entry;
    while (all.contains(behind(first)) && behind(first) != entry) first = behind(first);
    if (all.contains(behind(first))) {  // the whole rim
      const HalfEdgeId begin = first;
      while (slides_.contains(network_.half_edge(first).origin) && ahead(first) != begin) first = ahead(first);
    }
    found.emplace_back();
    for (HalfEdgeId h = first; all.erase(h) > 0; h = ahead(h)) found.back().push_back(h);
  }
  return found;
}

// In order; a Problem where an end would pass another.
Result<std::vector<Rails::Stop>> Rails::stops_along(const std::vector<HalfEdgeId>& run, FaceId rail) const {
  const std::size_t n = run.size();
  std::vector<Stop> stops;
  double last_end = -1;
  for (std::size_t i = 0; i <= n; ++i) {
    const VertexId v = network_.half_edge(i < n ? run[i] : Network::twin(run[n - 1])).origin;
    const LatticePoint p = network_.vertex(v).place;
    const Slide* slide = i > 0 && i < n ? slide_of(v, rail) : nullptr;
    const auto straight = [&] { return passes_pixel(network_.origin(run[i - 1]), network_.target(run[i]), p); };
    if (!slide || (rail == Network::kOutside ? corner(p) : !straight()))
      stops.push_back({static_cast<double>(i), i, std::nullopt});
    if (i == 0 || i == n || !is_junction(network_, v)) continue;
    double at = static_cast<double>(i);
    if (slide)
      at = static_cast<double>(std::find(run.begin(), run.end(), slide->to.on) - run.begin()) + slide->to.share;
    if (at <= last_end) return passes(p);
    last_end = at;
    stops.push_back({at, std::nullopt, i});
  }
  std::stable_sort(stops.begin(), stops.end(), [](const Stop& a, const Stop& b) { return a.at < b.at; });
  return stops;
}

// One run of a rim as it is laid again.
class Rails::Relaying {
 public:
  Relaying(Rails& rails, const std::vector<HalfEdgeId>& run, FaceId rail) : rails_(rails), run_(run), rail_(rail) {}

  Outcome lay(const std::vector<Stop>& stops, Recourse& plan) {
    for (std::size_t k = 0; k < stops.size(); ++k) {
      if (stops[k].stays) {
        add_place(*stops[k].stays);
      } else {
        std::size_t after = k + 1;
        while (!stops[after].stays) ++after;
        if (auto good = add_end(*stops[k].end, place(*stops[after].stays)); !good) return good;
      }
    }
    for (const HalfEdgeId h : run_) plan.lifted.push_back(Network::seam_of(h));
    for (const auto& [at, index] : ends_) plan.met[points_[at]] = vertex(index);
    lay_courses(plan);
    hold_areas(plan);
    return Done{};
  }

 private:
  using At = std::pair<std::size_t, std::size_t>;  // in points_, along the run

  VertexId vertex(std::size_t i) const {
    return rails_.network_.half_edge(i < run_.size() ? run_[i] : Network::twin(run_.back())).origin;
  }
  LatticePoint place(std::size_t i) const { return rails_.network_.vertex(vertex(i)).place; }
  bool last_is(const std::vector<At>& list) const { return !list.empty() && list.back().first + 1 == points_.size(); }

  void add_place(std::size_t i) {
    const LatticePoint p = place(i);
    if (points_.empty() || points_.back() != p) points_.push_back(p);
    kept_.push_back({points_.size() - 1, i});
  }

  // On the straight line between the places that stay.
  Outcome add_end(std::size_t i, LatticePoint b) {
    const LatticePoint a = place(kept_.back().second);
    const Slide* slide = rails_.slide_of(vertex(i), rail_);
    LatticePoint p = slide ? slide->to.place : place(i);
    if (near(p, a, kSame)) p = a;
    if (near(p, b, kSame)) p = b;
    if (p != a && p != b && !passes_pixel(a, b, p)) p = on_seam(a, b, p);
    if (points_.back() != p) points_.push_back(p);
    if (last_is(ends_)) return rails_.passes(p);
    ends_.push_back({points_.size() - 1, i});
    rails_.places_[vertex(i)] = p;
    return Done{};
  }

  std::vector<LatticePoint> part(std::size_t from, std::size_t to) const {
    return {points_.begin() + static_cast<std::ptrdiff_t>(from), points_.begin() + static_cast<std::ptrdiff_t>(to) + 1};
  }

  // From end to end, each with the face that lay behind the end before.
  void lay_courses(Recourse& plan) const {
    std::size_t from = 0;
    FaceId left = rails_.network_.half_edge(run_[0]).face;
    for (const auto& [at, index] : ends_) {
      if (at > from) plan.laid.push_back({part(from, at), left, rail_, true});
      from = at;
      left = rails_.network_.half_edge(run_[index]).face;
    }
    if (points_.size() - 1 > from) plan.laid.push_back({part(from, points_.size() - 1), left, rail_, true});
  }

  void hold_areas(Recourse& plan) const {
    for (std::size_t k = 0; k + 1 < kept_.size(); ++k) {
      std::int64_t area = 0;
      for (std::size_t i = kept_[k].second; i < kept_[k + 1].second; ++i) area += area_along(rails_.network_, run_[i]);
      plan.held.push_back({area, part(kept_[k].first, kept_[k + 1].first)});
    }
  }

  Rails& rails_;
  const std::vector<HalfEdgeId>& run_;
  FaceId rail_;
  std::vector<LatticePoint> points_;
  std::vector<At> kept_, ends_;
};

// Spans that overlap are laid together.
Outcome Rails::lay(Recourse& plan) {
  std::map<FaceId, std::set<HalfEdgeId>> taken;
  for (const auto& [v, slide] : slides_) taken[slide.rail].insert(slide.span.begin(), slide.span.end());
  for (const auto& [rail, all] : taken)
    for (const auto& run : runs(all)) {
      const auto stops = stops_along(run, rail);
      if (!stops) return stops.problem();
      if (!(*stops)[0].stays) return passes(network_.origin(run[0]));
      if (const auto laid = Relaying(*this, run, rail).lay(*stops, plan); !laid) return laid;
    }
  return Done{};
}

}  // namespace pontata
