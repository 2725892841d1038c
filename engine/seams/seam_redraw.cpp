// A stretch of seams put along a drawn line.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "engine/base/crossing.h"
#include "engine/seams/network_snap.h"
#include "engine/seams/seam_moves.h"
#include "engine/seams/seam_path.h"
#include "engine/seams/seam_places.h"
#include "engine/seams/seam_rails.h"

namespace pontata {

namespace {

using Line = std::vector<LatticePoint>;

constexpr double kOneNode = 5e-4;   // m: a line that ends that near to a node ends at it
constexpr double kLeastGap = 2e-3;  // m between seams' ends along the line
constexpr double kStraight = 5e-5;  // m

// A place on a line: piece k and fraction along it.
struct Along {
  std::size_t piece = 0;
  double share = 0;
  LatticePoint place;
  double value() const { return static_cast<double>(piece) + share; }
};

double fraction(LatticePoint a, LatticePoint b, LatticePoint p) {
  const Vec2 along(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y));
  const Vec2 to(static_cast<double>(p.x - a.x), static_cast<double>(p.y - a.y));
  const double squared = glm::dot(along, along);
  return squared > 0 ? std::clamp(glm::dot(along, to) / squared, 0.0, 1.0) : 0;
}

LatticePoint between(LatticePoint a, LatticePoint b, double t) {
  return {a.x + std::llround(t * static_cast<double>(b.x - a.x)),
          a.y + std::llround(t * static_cast<double>(b.y - a.y))};
}

// Seams from a junction of the old stretch on to the next junction.
struct Branch {
  std::vector<HalfEdgeId> half_edges;  // the first leaves the junction
  struct Contact {
    std::size_t piece = 0;  // of the branch
    double order = 0;       // along the branch
    Along on;
  };
  std::vector<Contact> contacts;  // with the line, from the junction on
  std::optional<Contact> cut;     // where the branch is to end
  bool returns = false;           // ends at the old stretch again
};

struct Knot {
  VertexId vertex;
  double along_old = 0;  // share of the old stretch's length
  std::vector<Branch> branches;
  std::optional<Along> to;
};

class Redraw {
 public:
  Redraw(const ChartedWall& wall, const Network& network, const MoveWords& words)
      : wall_(wall), n_(network), words_(words) {}

  Result<MovedSeams> run(SeamStretch stretch, Line line) {
    stretch_ = std::move(stretch);
    line_ = std::move(line);
    find_knots();
    for (Knot& k : knots_)
      for (Branch& b : k.branches) find_contacts(b);
    for (Knot& k : knots_)
      if (auto fault = cut_branches(k)) return *fault;
    if (auto fault = place_knots()) return *fault;
    lay_stretch();
    for (const Knot& k : knots_) lay_branches(k);
    auto made = lay_anew(n_, plan_, wall_.metric->meter(), words_);
    if (!made) return made.problem();
    MovedSeams result{std::move(made->network), std::move(made->touched), farthest(), {}};
    for (const LatticePoint p : course_) result.course.push_back(to_chart(p));
    return result;
  }

 private:
  VertexId origin(HalfEdgeId h) const { return n_.half_edge(h).origin; }
  VertexId target(HalfEdgeId h) const { return origin(Network::twin(h)); }

  void find_knots() {
    const auto& path = stretch_.half_edges;
    double whole = 0, walked = 0;
    for (const HalfEdgeId h : path) whole += n_.seam(Network::seam_of(h)).length_m;
    std::set<VertexId> on_stretch;
    for (std::size_t i = 0; i + 1 < path.size(); ++i) on_stretch.insert(target(path[i]));
    for (std::size_t i = 0; i + 1 < path.size(); ++i) {
      walked += n_.seam(Network::seam_of(path[i])).length_m;
      const VertexId v = target(path[i]);
      if (!is_junction(n_, v)) continue;
      Knot knot{v, walked / whole, {}, std::nullopt};
      for (HalfEdgeId h = n_.turn(path[i + 1]); h != path[i + 1]; h = n_.turn(h)) {
        if (h == Network::twin(path[i])) continue;
        Branch branch;
        for (HalfEdgeId b = h;; b = n_.half_edge(b).next) {
          branch.half_edges.push_back(b);
          if (is_junction(n_, target(b)) || is_on_border(n_, target(b)) || target(b) == v) break;
        }
        branch.returns = on_stretch.count(target(branch.half_edges.back())) > 0;
        knot.branches.push_back(std::move(branch));
      }
      knots_.push_back(std::move(knot));
    }
  }

  // Where the line meets or touches the branch, other than at the junction itself.
  void find_contacts(Branch& branch) const {
    for (std::size_t i = 0; i < branch.half_edges.size(); ++i) {
      const LatticePoint a = n_.origin(branch.half_edges[i]), b = n_.target(branch.half_edges[i]);
      for (std::size_t k = 0; k + 1 < line_.size(); ++k) {
        const LatticePoint c = line_[k], d = line_[k + 1];
        if (!segments_meet(a, b, c, d)) continue;
        LatticePoint p = a;
        if (segments_cross(a, b, c, d))
          p = rounded_crossing(a, b, c, d);
        else if (on_segment(c, d, b))
          p = b;
        else if (!on_segment(c, d, a))
          p = on_segment(a, b, c) ? c : d;
        const double at = fraction(a, b, p);
        branch.contacts.push_back({i, static_cast<double>(i) + at, {k, fraction(c, d, p), p}});
      }
    }
    std::sort(branch.contacts.begin(), branch.contacts.end(),
              [](const auto& a, const auto& b) { return a.order < b.order; });
  }

  std::optional<Problem> cut_branches(Knot& knot) {
    for (Branch& b : knot.branches) {
      if (b.contacts.empty()) continue;
      if (b.returns && b.contacts.size() != 2)
        return Problem{"The line runs over " + words_.between(n_, b.half_edges[0]), place_name(b.contacts[0].on.place),
                       "Draw it clear of there."};
      b.cut = b.returns ? b.contacts.front() : b.contacts.back();
      // The junction goes where the line meets the branch that it meets nearest to its old place.
      const LatticePoint from = n_.vertex(knot.vertex).place;
      if (!knot.to || length_between(wall_, from, b.cut->on.place) < length_between(wall_, from, knot.to->place))
        knot.to = b.cut->on;
    }
    return std::nullopt;
  }

  // Length of the line up to each of its points, m.
  std::vector<double> reach_of_line() const {
    std::vector<double> reach{0};
    for (std::size_t i = 0; i + 1 < line_.size(); ++i)
      reach.push_back(reach.back() + length_between(wall_, line_[i], line_[i + 1]));
    return reach;
  }

  Along at_reach(const std::vector<double>& reach, double s) const {
    std::size_t k = 0;
    while (k + 2 < line_.size() && reach[k + 1] < s) ++k;
    const double t = reach[k + 1] > reach[k] ? std::clamp((s - reach[k]) / (reach[k + 1] - reach[k]), 0.0, 1.0) : 0;
    return {k, t, between(line_[k], line_[k + 1], t)};
  }

  double reach_at(const std::vector<double>& reach, const Along& a) const {
    return reach[a.piece] + a.share * (reach[a.piece + 1] - reach[a.piece]);
  }

  double nearest(const std::vector<double>& reach, LatticePoint p) const {
    double best = 0, least = 1e300;
    for (std::size_t k = 0; k + 1 < line_.size(); ++k) {
      const double t = fraction(line_[k], line_[k + 1], p);
      const double away = length_between(wall_, p, between(line_[k], line_[k + 1], t));
      if (away < least) least = away, best = reach[k] + t * (reach[k + 1] - reach[k]);
    }
    return best;
  }

  // Junctions that no branch settles go to the nearest places along the line between their neighbours, in order; where
  // that would crowd them, evenly as they stood.
  std::optional<Problem> place_knots() {
    const auto reach = reach_of_line();
    double low = 0;
    for (std::size_t i = 0; i < knots_.size();) {
      if (knots_[i].to) {
        const double at = reach_at(reach, *knots_[i].to);
        if (at <= low || at >= reach.back())
          return Problem{"The seams that end at this stretch would change their order", place_name(knots_[i].to->place),
                         "Draw the line so that it meets them in their order."};
        low = at;
        ++i;
        continue;
      }
      std::size_t j = i;
      while (j < knots_.size() && !knots_[j].to) ++j;
      const double high = j < knots_.size() ? reach_at(reach, *knots_[j].to) : reach.back();
      const double gap = std::min(kLeastGap, (high - low) / static_cast<double>(j - i + 2));
      bool good = true;
      double last = low;
      std::vector<double> wanted;
      for (std::size_t k = i; k < j; ++k) {
        const double at = std::clamp(nearest(reach, n_.vertex(knots_[k].vertex).place), low + gap, high - gap);
        good &= at >= last + gap;
        last = at;
        wanted.push_back(at);
      }
      const double old_low = i > 0 ? knots_[i - 1].along_old : 0,
                   old_high = j < knots_.size() ? knots_[j].along_old : 1;
      for (std::size_t k = i; k < j; ++k) {
        const double part = (knots_[k].along_old - old_low) / (old_high - old_low);
        knots_[k].to = at_reach(reach, good ? wanted[k - i] : low + part * (high - low));
      }
      i = j;
      low = j < knots_.size() ? low : high;
    }
    return std::nullopt;
  }

  void lay_stretch() {
    const auto& path = stretch_.half_edges;
    for (const HalfEdgeId h : path) plan_.lifted.push_back(Network::seam_of(h));
    const auto left = [&](HalfEdgeId h) { return n_.half_edge(h).face; };
    const auto right = [&](HalfEdgeId h) { return n_.half_edge(Network::twin(h)).face; };
    // What is left of the first and the last seam.
    const HalfEdgeId head = path.front(), tail = path.back();
    if (path.size() > 1 && head == tail) {  // all the way round to the seam it began on
      plan_.lay({stretch_.last, stretch_.first}, left(head), right(head));
    } else {
      if (stretch_.first != n_.origin(head)) plan_.lay({n_.origin(head), stretch_.first}, left(head), right(head));
      if (stretch_.last != n_.target(tail)) plan_.lay({stretch_.last, n_.target(tail)}, left(tail), right(tail));
    }
    course_ = {line_[0]};
    Line course = course_;
    std::size_t k = 0, piece = 0;
    HalfEdgeId h = path.front();
    const auto add = [&](LatticePoint p) {
      if (course.back() != p) course.push_back(p);
      if (course_.back() != p) course_.push_back(p);
    };
    for (;; ++k) {
      const bool end = k == knots_.size();
      const std::size_t until = end ? line_.size() - 1 : knots_[k].to->piece;
      for (; piece < until; ++piece) add(line_[piece + 1]);
      if (!end) add(knots_[k].to->place);
      plan_.lay(course, left(h), right(h));
      if (end) break;
      plan_.met[knots_[k].to->place] = knots_[k].vertex;
      course = {knots_[k].to->place};
      for (const HalfEdgeId g : path)
        if (origin(g) == knots_[k].vertex) h = g;
    }
  }

  // A cut branch begins at the junction's new place; one that is too short is led on, back along a cut one where there
  // is one, else straight.
  void lay_branches(const Knot& knot) {
    const LatticePoint to = knot.to->place, from = n_.vertex(knot.vertex).place;
    const Branch* back = nullptr;
    for (const Branch& b : knot.branches)
      if (b.cut && b.cut->on.place == to) back = &b;
    for (const Branch& b : knot.branches) {
      Line course{to};
      std::size_t first = 0;
      if (b.cut) {
        first = b.cut->piece;
        if (b.cut->on.place == n_.target(b.half_edges[first]) && first + 1 < b.half_edges.size()) ++first;
      } else if (back) {
        for (std::size_t i = back->cut->piece + 1; i-- > 0;)
          if (const LatticePoint p = n_.origin(back->half_edges[i]); p != course.back()) course.push_back(p);
      } else if (to != from && length_between(wall_, to, from) > kLeastGap) {
        course.push_back(from);
      }
      for (std::size_t i = 0; i <= first; ++i)
        if (lifted_.insert(Network::seam_of(b.half_edges[i])).second)
          plan_.lifted.push_back(Network::seam_of(b.half_edges[i]));
      const HalfEdgeId h = b.half_edges[first];
      course.push_back(n_.target(h));
      if (course.size() > 2 && needed_points(wall_, course, kStraight).size() == 2) course = {to, course.back()};
      plan_.lay(std::move(course), n_.half_edge(h).face, n_.half_edge(Network::twin(h)).face);
    }
  }

  double farthest() const {
    double most = 0;
    const auto reach = reach_of_line();
    for (const HalfEdgeId h : stretch_.half_edges) {
      const LatticePoint p = n_.origin(h);
      if (h == stretch_.half_edges.front()) continue;
      most = std::max(most, length_between(wall_, p, at_reach(reach, nearest(reach, p)).place));
    }
    Line old{stretch_.first};
    for (std::size_t i = 0; i + 1 < stretch_.half_edges.size(); ++i) old.push_back(n_.target(stretch_.half_edges[i]));
    old.push_back(stretch_.last);
    for (const LatticePoint p : line_) {
      double least = 1e300;
      for (std::size_t i = 0; i + 1 < old.size(); ++i)
        least = std::min(least, length_between(wall_, p, between(old[i], old[i + 1], fraction(old[i], old[i + 1], p))));
      most = std::max(most, least);
    }
    return most;
  }

  const ChartedWall& wall_;
  const Network& n_;
  const MoveWords& words_;
  SeamStretch stretch_;
  Line line_;
  std::vector<Knot> knots_;
  std::set<SeamId> lifted_;
  Recourse plan_;
  Line course_;
};

// A line brought onto the wall, its ends onto seams, and the stretch it is to take the place of.
struct Asked {
  Line line;
  SeamStretch stretch;
};

Result<Asked> asked(const ChartedWall& wall, const Network& network, const std::vector<ChartPoint>& line) {
  const Problem short_line{"A line needs at least 2 different points", "",
                           "Draw it from one place of a seam to another."};
  Line places;
  for (const ChartPoint p : line) {
    const auto at = place_asked(wall, p);
    if (!at) return at.problem();
    places.push_back(to_lattice(*at));
  }
  places.erase(std::unique(places.begin(), places.end()), places.end());
  if (places.size() < 2) return short_line;
  std::optional<SeamPlace> ends[2];
  for (const bool last : {false, true}) {
    LatticePoint& p = last ? places.back() : places.front();
    ends[last] = seam_near(wall, network, to_chart(p), kSeamNear, false, kOneNode);
    if (!ends[last])
      return Problem{last ? "The line does not end on a seam" : "The line does not begin on a seam", place_name(p),
                     "Draw it from one place of a seam to another, within 1 cm of both."};
    p = ends[last]->place;
  }
  places.erase(std::unique(places.begin(), places.end()), places.end());
  if (places.size() < 2) return short_line;
  if (places.front() == places.back())
    return Problem{"The line comes back to where it began", place_name(places[0]),
                   "Draw it from one place of a seam to another."};
  if (const auto crossing = line_crossing(places))
    return Problem{"The line crosses or touches itself", place_name(*crossing),
                   "Draw it once along the seam's new course."};
  auto stretch = stretch_near(wall, network, *ends[0], *ends[1], places);
  if (!stretch) return stretch.problem();
  return Asked{std::move(places), std::move(*stretch)};
}

}  // namespace

Result<MovedSeams> redraw_seam(const ChartedWall& wall, const Network& network, const std::vector<ChartPoint>& line,
                               const SeamHold& hold, const SeamNames& names) {
  auto what = asked(wall, network, line);
  if (!what) return what.problem();
  const MoveWords words{wall.chart.get(), hold, names};
  return Redraw(wall, network, words).run(std::move(what->stretch), std::move(what->line));
}

Result<Network> without_stretch(const ChartedWall& wall, const Network& network, const std::vector<ChartPoint>& line) {
  const auto what = asked(wall, network, line);
  if (!what) return what.problem();
  const EdgeMeter meter = wall.metric->meter();
  NetworkEditor editor(network, meter);
  const auto& way = what->stretch.half_edges;
  const auto rest = [&](HalfEdgeId h, LatticePoint a, LatticePoint b) {
    return a == b || editor.add_seam(a, b, network.half_edge(h).face, network.half_edge(Network::twin(h)).face);
  };
  for (const HalfEdgeId h : way)
    if (editor.network().alive(h)) editor.open_seam(Network::seam_of(h));
  const bool laid = rest(way.front(), network.origin(way.front()), what->stretch.first) &&
                    rest(way.back(), what->stretch.last, network.target(way.back()));
  if (!laid || !editor.settle() || !editor.measure_new())
    return Problem{"The seam cannot be opened there", place_name(what->stretch.first),
                   "Draw the line without hugging."};
  return editor.take();
}

}  // namespace pontata
