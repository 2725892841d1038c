// A stretch of seams put along a drawn line.
#include <algorithm>
#include <map>
#include <set>

#include "engine/seams/seam_branches.h"
#include "engine/seams/seam_moves.h"

namespace pontata {

namespace {

using Line = std::vector<LatticePoint>;

constexpr double kLeastGap = 2e-3;  // m between seams' ends along the line

// A line by its length on the surface.
class Measured {
 public:
  Measured(const ChartedWall& wall, const Line& line) : wall_(wall), line_(line) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
      reach_.push_back(reach_.back() + length_between(wall, line[i], line[i + 1]));
  }
  double length() const { return reach_.back(); }

  Along at(double s) const {
    std::size_t k = 0;
    while (k + 2 < line_.size() && reach_[k + 1] < s) ++k;
    const double gap = reach_[k + 1] - reach_[k];
    const double t = gap > 0 ? std::clamp((s - reach_[k]) / gap, 0.0, 1.0) : 0;
    return {k, t, place_between(line_[k], line_[k + 1], t)};
  }
  double reach(const Along& a) const { return reach_[a.piece] + a.share * (reach_[a.piece + 1] - reach_[a.piece]); }
  // How far along lies the place nearest to p, and how near it is.
  std::pair<double, double> nearest(LatticePoint p) const {
    std::pair<double, double> best{0, 1e300};
    for (std::size_t k = 0; k + 1 < line_.size(); ++k) {
      const double t = fraction_along(line_[k], line_[k + 1], p);
      const double away = length_between(wall_, p, place_between(line_[k], line_[k + 1], t));
      if (away < best.second) best = {reach_[k] + t * (reach_[k + 1] - reach_[k]), away};
    }
    return best;
  }

 private:
  const ChartedWall& wall_;
  const Line& line_;
  std::vector<double> reach_{0};
};

class Redraw {
 public:
  Redraw(const ChartedWall& wall, const Network& network, const MoveWords& words, Rails& rails)
      : wall_(wall), n_(network), words_(words), rails_(rails) {}

  Result<MovedSeams> run(std::vector<LinePart> parts) {
    for (LinePart& part : parts) {
      slide_to_rim(part, false);
      slide_to_rim(part, true);
    }
    if (auto fault = slide_ends(parts)) return *fault;
    lift_stretches(parts);
    for (LinePart& part : parts)
      if (auto fault = lay(part)) return *fault;
    lead_slid_ends();
    auto made = lay_anew(n_, plan_, wall_.metric->meter(), words_);
    if (!made) return made.problem();
    MovedSeams result{std::move(made->network), std::move(made->touched), most_, {}};
    for (const LatticePoint p : course_) result.course.push_back(to_chart(p));
    return result;
  }

 private:
  VertexId origin(HalfEdgeId h) const { return n_.half_edge(h).origin; }
  VertexId target(HalfEdgeId h) const { return origin(Network::twin(h)); }
  FaceId left(HalfEdgeId h) const { return n_.half_edge(h).face; }
  FaceId right(HalfEdgeId h) const { return n_.half_edge(Network::twin(h)).face; }

  LatticePoint place(VertexId v) const {
    const auto it = rails_.places().find(v);
    return it == rails_.places().end() ? n_.vertex(v).place : it->second;
  }

  // Two half-edges from one junction, within 30 degrees of straight on.
  bool goes_straight(HalfEdgeId a, HalfEdgeId b) const {
    const Vec2 o = to_vec(to_chart(n_.origin(a)));
    const Vec2 p = glm::normalize(to_vec(to_chart(n_.target(a))) - o);
    const Vec2 q = glm::normalize(to_vec(to_chart(n_.target(b))) - o);
    return glm::dot(p, q) < -0.866;
  }
  // From its end the line never comes nearer to v.
  bool leads_away(const Line& line, VertexId v, bool last) const {
    const Measured measured(wall_, line);
    const double at = measured.nearest(n_.vertex(v).place).first;
    return last ? at > measured.length() * (1 - 1e-9) : at < measured.length() * 1e-9;
  }

  // Where the line leaves a rim that goes on past the seam drawn anew, that seam's end slides along the rim to the
  // line: the rim keeps its course. The stretch then begins at that end.
  void slide_to_rim(LinePart& part, bool last) {
    auto& way = part.stretch.half_edges;
    if (last ? part.tail : part.head) return;
    const LatticePoint end = last ? part.stretch.last : part.stretch.first;
    std::size_t i = 0;  // of the half-edge, from this end, that goes on from the first junction
    const auto step = [&](std::size_t k) { return last ? way[way.size() - 1 - k] : way[k]; };
    while (i + 1 < way.size() && !is_junction(n_, last ? origin(step(i)) : target(step(i)))) ++i;
    if (++i >= way.size()) return;
    const HalfEdgeId on = last ? Network::twin(step(i)) : step(i);  // leaves the junction along the stretch
    const HalfEdgeId back = last ? step(i - 1) : Network::twin(step(i - 1));
    const VertexId v = origin(on);
    if (n_.turn(n_.turn(n_.turn(on))) != on || is_on_border(n_, v)) return;
    const HalfEdgeId other = n_.turn(on) == back ? n_.turn(back) : n_.turn(on);
    if (const auto there = n_.vertex_at(end); there && is_junction(n_, *there)) return;
    if (!goes_straight(back, other) && !leads_away(part.line, v, last)) return;
    if (goes_straight(back, on)) return;
    // The face across the rim from the seam: beside both `back` and `other`.
    const FaceId across = n_.turn(on) == back ? left(back) : left(other);
    if (across == Network::kOutside) return;
    rim_slides_.push_back({v, across, to_chart(end)});
    (last ? part.tail : part.head) = v;
    const auto cut = static_cast<std::ptrdiff_t>(i);
    if (last)
      way.erase(way.end() - cut, way.end());
    else
      way.erase(way.begin(), way.begin() + cut);
    (last ? part.stretch.last : part.stretch.first) = n_.vertex(v).place;
  }

  // Ends on the border, and on other rims, go to the ends of the line.
  std::optional<Problem> slide_ends(std::vector<LinePart>& parts) {
    for (const auto& [v, rim, to] : rim_slides_)
      if (const auto slid = rails_.slide(v, rim, to, true); !slid) return slid.problem();
    for (const LinePart& part : parts)
      for (const bool last : {false, true})
        if (const auto v = last ? part.tail : part.head; v && is_on_border(n_, *v))
          if (const auto slid =
                  rails_.slide(*v, Network::kOutside, to_chart(last ? part.line.back() : part.line.front()), true);
              !slid)
            return slid.problem();
    if (const auto laid = rails_.lay(plan_); !laid) return laid.problem();
    for (LinePart& part : parts)
      for (const bool last : {false, true}) {
        LatticePoint& end = last ? part.line.back() : part.line.front();
        const auto v = last ? part.tail : part.head;
        if (!v) continue;
        if (length_between(wall_, end, place(*v)) > 1e-4)
          return Problem{"The end of the seam cannot slide that far", place_name(end),
                         "Draw the line in several steps."};
        end = place(*v);
      }
    return std::nullopt;
  }

  // Takes the stretches up; what is left of seams that they begin or end on is laid again.
  void lift_stretches(const std::vector<LinePart>& parts) {
    std::map<SeamId, std::vector<std::pair<LatticePoint, LatticePoint>>> taken;  // along half-edge 2k
    for (const LinePart& part : parts) {
      const auto& way = part.stretch.half_edges;
      for (std::size_t i = 0; i < way.size(); ++i) {
        const LatticePoint a = i == 0 ? part.stretch.first : n_.origin(way[i]);
        const LatticePoint b = i + 1 == way.size() ? part.stretch.last : n_.target(way[i]);
        taken[Network::seam_of(way[i])].push_back((way[i].value & 1u) ? std::pair(b, a) : std::pair(a, b));
      }
    }
    for (auto& [s, pieces] : taken) {
      const HalfEdgeId h{s.value << 1};
      const LatticePoint a = n_.origin(h), b = n_.target(h);
      std::sort(pieces.begin(), pieces.end(), [&](const auto& p, const auto& q) {
        return fraction_along(a, b, p.first) < fraction_along(a, b, q.first);
      });
      plan_.lifted.push_back(s);
      LatticePoint at = a;
      for (const auto& [from, to] : pieces) {
        if (at != from) plan_.lay({at, from}, left(h), right(h));
        at = to;
      }
      if (at != b) plan_.lay({at, b}, left(h), right(h));
    }
  }

  std::optional<Problem> lay(const LinePart& part) {
    auto branches = branches_of(wall_, n_, part, words_);
    if (!branches) return branches.problem();
    const Measured line(wall_, part.line);
    if (auto fault = place_knots(line, branches->knots)) return fault;
    lay_stretch(part, branches->knots);
    lay_branches(
        wall_, n_, *branches, [&](VertexId v) { return place(v); }, plan_);
    see_farthest(part, line);
    return std::nullopt;
  }

  // Junctions that no branch settles go to the nearest places along the line between their neighbours, in order; where
  // that would crowd them, as they stood along the old stretch.
  std::optional<Problem> place_knots(const Measured& line, std::vector<Knot>& knots) const {
    double low = 0;
    for (std::size_t i = 0; i < knots.size();) {
      if (knots[i].to) {
        const double at = line.reach(*knots[i].to);
        if (at <= low || at >= line.length())
          return Problem{"The seams that end at this stretch would change their order", place_name(knots[i].to->place),
                         "Draw the line so that it meets them in their order."};
        low = at;
        ++i;
        continue;
      }
      std::size_t j = i;
      while (j < knots.size() && !knots[j].to) ++j;
      spread(line, knots, i, j, low, j < knots.size() ? line.reach(*knots[j].to) : line.length());
      i = j;
    }
    return std::nullopt;
  }

  // Knots i to j - 1 between two places along the line.
  void spread(const Measured& line, std::vector<Knot>& knots, std::size_t i, std::size_t j, double low,
              double high) const {
    const double gap = std::min(kLeastGap, (high - low) / static_cast<double>(j - i + 2));
    std::vector<double> wanted;
    bool in_order = true;
    for (std::size_t k = i; k < j; ++k) {
      wanted.push_back(std::clamp(line.nearest(n_.vertex(knots[k].vertex).place).first, low + gap, high - gap));
      in_order = in_order && wanted.back() >= (k == i ? low : wanted[k - i - 1]) + gap * (1 - 1e-9);
    }
    const double from = i > 0 ? knots[i - 1].along_old : 0, to = j < knots.size() ? knots[j].along_old : 1;
    for (std::size_t k = i; k < j; ++k)
      knots[k].to = line.at(in_order ? wanted[k - i] : low + (knots[k].along_old - from) / (to - from) * (high - low));
  }

  void lay_stretch(const LinePart& part, const std::vector<Knot>& knots) {
    const auto& path = part.stretch.half_edges;
    std::map<VertexId, HalfEdgeId> leaving;
    for (const HalfEdgeId h : path) leaving[origin(h)] = h;
    Line course{part.line[0]};
    course_.push_back(part.line[0]);
    HalfEdgeId h = path.front();
    std::size_t piece = 0;
    for (std::size_t k = 0; k <= knots.size(); ++k) {
      const bool end = k == knots.size();
      for (; piece < (end ? part.line.size() - 1 : knots[k].to->piece); ++piece) course.push_back(part.line[piece + 1]);
      if (!end) course.push_back(knots[k].to->place);
      course.erase(std::unique(course.begin(), course.end()), course.end());
      course_.insert(course_.end(), course.begin() + 1, course.end());
      plan_.lay(course, left(h), right(h));
      if (end) break;
      plan_.met[knots[k].to->place] = knots[k].vertex;
      course = {knots[k].to->place};
      h = leaving.at(knots[k].vertex);
    }
  }

  // Seams that end where an end slid, other than those laid already.
  void lead_slid_ends() {
    std::set<SeamId> done(plan_.lifted.begin(), plan_.lifted.end());
    for (const auto& [v, to] : rails_.places()) {
      if (to == n_.vertex(v).place) continue;
      const HalfEdgeId first = n_.vertex(v).out;
      HalfEdgeId h = first;
      do {
        if (done.insert(Network::seam_of(h)).second) {
          plan_.lifted.push_back(Network::seam_of(h));
          plan_.lay({to, place(target(h))}, left(h), right(h));
        }
        h = n_.turn(h);
      } while (h != first);
    }
  }

  // Of the old places to the new line and of the new places to the old stretch.
  void see_farthest(const LinePart& part, const Measured& line) {
    Line old{part.stretch.first};
    for (std::size_t i = 0; i + 1 < part.stretch.half_edges.size(); ++i)
      old.push_back(n_.target(part.stretch.half_edges[i]));
    old.push_back(part.stretch.last);
    const Measured before(wall_, old);
    for (const LatticePoint p : old) most_ = std::max(most_, line.nearest(p).second);
    for (const LatticePoint p : part.line) most_ = std::max(most_, before.nearest(p).second);
  }

  struct RimSlide {
    VertexId v;
    FaceId rim;
    ChartPoint to;
  };

  const ChartedWall& wall_;
  const Network& n_;
  const MoveWords& words_;
  Rails& rails_;
  std::vector<RimSlide> rim_slides_;
  Recourse plan_;
  double most_ = 0;
  Line course_;
};

}  // namespace

Result<MovedSeams> redraw_seam(const ChartedWall& wall, const Network& network, const std::vector<ChartPoint>& line,
                               const SeamHold& hold, const SeamNames& names) {
  const MoveWords words{wall.chart.get(), hold, names};
  Rails rails(wall, network, words);
  auto parts = line_parts(wall, network, rails, line);
  if (!parts) return parts.problem();
  return Redraw(wall, network, words, rails).run(std::move(*parts));
}

Result<Network> without_stretch(const ChartedWall& wall, const Network& network, const std::vector<ChartPoint>& line) {
  const MoveWords words{wall.chart.get(), {}, {}};
  const auto parts = line_parts(wall, network, Rails(wall, network, words), line);
  if (!parts) return parts.problem();
  const EdgeMeter meter = wall.metric->meter();
  NetworkEditor editor(network, meter);
  bool laid = true;
  const auto rest = [&](HalfEdgeId h, LatticePoint a, LatticePoint b) {
    laid =
        laid && (a == b || editor.add_seam(a, b, network.half_edge(h).face, network.half_edge(Network::twin(h)).face));
  };
  for (const auto& [points, stretch, head, tail] : *parts) {
    const auto& way = stretch.half_edges;
    for (const HalfEdgeId h : way)
      if (editor.network().alive(h)) editor.open_seam(Network::seam_of(h));
    rest(way.front(), network.origin(way.front()), stretch.first);
    rest(way.back(), stretch.last, network.target(way.back()));
  }
  if (!laid || !editor.settle() || !editor.measure_new())
    return Problem{"The seam cannot be opened there", place_name(parts->front().line.front()),
                   "Draw the line without hugging."};
  return editor.take();
}

}  // namespace pontata
