#include "engine/seams/seam_recourse.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <numeric>
#include <set>
#include <tuple>
#include <unordered_set>

#include "engine/base/crossing.h"
#include "engine/seams/least_piece.h"
#include "engine/seams/network_snap.h"
#include "engine/seams/seam_branches.h"
#include "engine/seams/seam_sweep.h"

namespace pontata {

namespace {

constexpr const char* kElsewhere = "Lead it clear of there, or by less.";

// The faces about a vertex, counter-clockwise.
std::vector<FaceId> faces_about(const Network& n, VertexId v) {
  std::vector<FaceId> faces;
  const HalfEdgeId first = n.vertex(v).out;
  HalfEdgeId h = first;
  do {
    faces.push_back(n.half_edge(h).face);
    h = n.turn(h);
  } while (h != first && faces.size() <= n.half_edge_slots());
  return faces;
}

HalfEdgeId least_leaving(const Network& n, VertexId v) {
  const HalfEdgeId first = n.vertex(v).out;
  HalfEdgeId least = first;
  for (HalfEdgeId h = n.turn(first); h != first; h = n.turn(h)) least = std::min(least, h);
  return least;
}

bool same_turn(const std::vector<FaceId>& a, const std::vector<FaceId>& b) {
  if (a.size() != b.size()) return false;
  std::vector<FaceId> twice = b;
  twice.insert(twice.end(), b.begin(), b.end());
  return std::search(twice.begin(), twice.end(), a.begin(), a.end()) != twice.end();
}

// Turning counter-clockwise to the direction of `goal`, that of a comes after that of b.
bool later(LatticePoint o, LatticePoint goal, LatticePoint a, LatticePoint b) {
  const bool a_before = compare_angle(o, a, goal) < 0, b_before = compare_angle(o, b, goal) < 0;
  return a_before != b_before ? a_before : compare_angle(o, a, b) > 0;
}

class Layer {
 public:
  Layer(const Network& before, const Recourse& plan, const EdgeMeter& meter, const MoveWords& words)
      : before_(before), plan_(plan), words_(words), editor_(before, meter) {}

  Result<Relaid> run() {
    find_touched();
    if (auto twice = lifted_twice()) return *twice;
    if (auto held = held_giornata()) return *held;
    for (const SeamId s : plan_.lifted) editor_.remove_seam(s);
    for (const auto& course : plan_.laid)
      if (auto fault = lay(course)) return *fault;
    for (const auto& held : plan_.held) editor_.hold_area(held.area, held.course);
    for (const HalfEdgeId h : laid_)
      if (auto fault = meets_another(h)) return *fault;
    if (auto fault = turned_about()) return *fault;
    if (!editor_.settle() || !rims_kept()) return would_turn(plan_.laid.front().points.front());
    if (auto fault = passed_over()) return *fault;
    if (auto fault = loose_strayed()) return *fault;
    if (!editor_.measure_new() || !border_held()) return too_close(plan_.laid.front().points.front());
    if (auto fault = too_small()) return *fault;
    return Relaid{editor_.take(), {touched_.begin(), touched_.end()}};
  }

 private:
  const Network& now() const { return editor_.network(); }
  GiornataId owner(FaceId f) const { return f == Network::kOutside ? GiornataId{} : before_.face(f).owner; }

  static Problem too_close(LatticePoint p) {
    return {"The seam would come too close to another to be told apart", place_name(p),
            "Keep a millimetre away from it."};
  }
  static Problem would_turn(LatticePoint p) {
    return {"The seams would change places there", place_name(p), "Move it by less."};
  }

  // Two parts of the plan want one seam otherwise: where too much meets in one place.
  std::optional<Problem> lifted_twice() const {
    std::set<SeamId> seen;
    for (const SeamId s : plan_.lifted)
      if (!seen.insert(s).second) return would_turn(before_.origin({s.value << 1}));
    return std::nullopt;
  }

  void find_touched() {
    for (const auto& course : plan_.laid)
      for (const FaceId f : {course.left, course.right}) {
        faces_.insert(f);
        if (!course.rim && owner(f)) touched_.insert(owner(f));
      }
    faces_.erase(Network::kOutside);
  }

  std::optional<Problem> held_giornata() const {
    for (const auto& course : plan_.laid)
      for (const FaceId f : {course.left, course.right})
        if (!course.rim)
          if (auto why = words_.held(before_, f, course.points.front())) return why;
    return std::nullopt;
  }

  std::optional<Problem> lay(const Course& course) {
    for (std::size_t i = 0; i + 1 < course.points.size(); ++i) {
      const LatticePoint a = course.points[i], b = course.points[i + 1];
      if (std::max({std::abs(b.x), std::abs(b.y)}) >= kLatticeLimit)
        return Problem{"The seam would leave the wall", place_name(a), "Keep it on the wall."};
      if (a == b) return too_close(a);
      if (const auto there = editor_.edge_between(a, b)) return runs_over(*there, a);
      const auto h = editor_.add_seam(a, b, course.left, course.right);
      if (!h) return too_close(a);
      laid_.push_back(*h);
      ++ends_[a], ++ends_[b];
      if (i > 0) inner_.push_back(a);
    }
    return std::nullopt;
  }

  Problem runs_over(HalfEdgeId other, LatticePoint at) const {
    const bool border = now().on_border(Network::seam_of(other));
    if (border && on_cut(other))
      return {"The seam would go over the line along which the chart of this wall is cut open", place_name(at),
              "Keep it on its side, or move the seams on both sides of that line."};
    if (border) return {"The seam would leave the wall", place_name(at), "Keep it on the wall."};
    return {"The seam would run over " + words_.between(now(), other), place_name(at), kElsewhere};
  }

  bool on_cut(HalfEdgeId h) const {
    if (!words_.chart || !words_.chart->has_cuts()) return false;
    const ChartPoint a = to_chart(now().origin(h)), b = to_chart(now().target(h));
    const auto edge = words_.chart->nearest_border({(a.u + b.u) / 2, (a.v + b.v) / 2}).edge;
    return words_.chart->across_cut(edge) != Chart::kNoTriangle;
  }

  // Crossings first: they tell more than a place that is merely near. Of several the one that the seam comes to first.
  std::optional<Problem> meets_another(HalfEdgeId h) const {
    const LatticePoint a = now().origin(h), b = now().target(h);
    const SeamId self = Network::seam_of(h);
    struct Met {
      double along = 2;
      LatticePoint at;
      std::uint32_t seam = kNone;
    };
    Met crossed, near;
    const auto see = [&](Met& met, LatticePoint p, std::uint32_t s) {
      const double along = fraction_along(a, b, p);
      if (std::tuple(along, p, s) < std::tuple(met.along, met.at, met.seam)) met = {along, p, s};
    };
    now().grid().along(a, b, 1, [&](std::uint32_t s) {
      if (s == self.value) return;
      const LatticePoint c = now().origin({s << 1}), d = now().target({s << 1});
      const bool joined = a == c || a == d || b == c || b == d;
      if (!joined && segments_meet(a, b, c, d))
        return see(crossed, segments_cross(a, b, c, d) ? rounded_crossing(a, b, c, d) : a, s);
      for (const LatticePoint p : {c, d})
        if (p != a && p != b && passes_pixel(a, b, p)) see(near, p, s);
      for (const LatticePoint p : {a, b})
        if (p != c && p != d && passes_pixel(c, d, p)) see(near, p, s);
    });
    if (crossed.seam != kNone) return runs_over({crossed.seam << 1}, crossed.at);
    return near.seam != kNone ? std::optional(too_close(near.at)) : std::nullopt;
  }

  // About every end of what was laid the same faces follow one another as did about the vertex that came there.
  std::optional<Problem> turned_about() const {
    for (const LatticePoint p : inner_)
      if (const auto v = find(p); !v || faces_about(now(), *v).size() != 2) return too_close(p);
    for (const auto& course : plan_.laid)
      for (const LatticePoint p : {course.points.front(), course.points.back()}) {
        const auto v = find(p);
        const auto moved = plan_.met.find(p);
        const auto old = moved != plan_.met.end() ? std::optional(moved->second) : before_.vertex_at(p);
        if (!v) return would_turn(p);
        const auto about = faces_about(now(), *v);
        const bool same = old ? same_turn(faces_about(before_, *old), about) : about.size() == 2;
        if (!same) return would_turn(p);
      }
    return std::nullopt;
  }

  std::optional<VertexId> find(LatticePoint p) const { return now().vertex_at(p); }

  bool rims_kept() const {
    for (const FaceId f : faces_)
      if (!now().face(f).alive || now().face(f).owner != before_.face(f).owner ||
          now().face(f).inner.size() != before_.face(f).inner.size())
        return false;
    for (const HalfEdgeId h : laid_)
      if (const FaceId f = now().half_edge(h).face; f != Network::kOutside && !faces_.count(f)) return false;
    return true;
  }

  // What each face gained and lost, and the places that came, went or were ends of what did.
  struct Swept {
    std::map<FaceId, Sweep> faces;
    std::unordered_set<LatticePoint> ends;
    LatticePoint lo{kLatticeLimit, kLatticeLimit}, hi{-kLatticeLimit, -kLatticeLimit};
    void add(FaceId f, LatticePoint a, LatticePoint b) {
      if (f != Network::kOutside) faces[f].add(a, b);
      for (const LatticePoint p : {a, b}) {
        ends.insert(p);
        lo = {std::min(lo.x, p.x), std::min(lo.y, p.y)};
        hi = {std::max(hi.x, p.x), std::max(hi.y, p.y)};
      }
    }
    bool reaches(LatticePoint p) const { return p.x >= lo.x && p.x <= hi.x && p.y >= lo.y && p.y <= hi.y; }
    bool holds(LatticePoint p) const {
      return std::any_of(faces.begin(), faces.end(), [&](const auto& face) { return face.second.holds(p); });
    }
  };

  Swept swept() const {
    Swept all;
    for (const SeamId s : plan_.lifted)
      for (const HalfEdgeId h : {HalfEdgeId{s.value << 1}, HalfEdgeId{(s.value << 1) | 1u}})
        all.add(before_.half_edge(h).face, before_.origin(h), before_.target(h));
    for (const HalfEdgeId h : laid_)
      for (const HalfEdgeId side : {h, Network::twin(h)})
        all.add(now().half_edge(side).face, now().origin(h), now().target(h));
    for (auto& [f, sweep] : all.faces) sweep.close();
    return all;
  }

  // Places of seams that stayed lie on the same side of each face's rims as before: what a face gained or lost, between
  // its old and its new courses, holds none of them.
  std::optional<Problem> passed_over() const {
    Swept all = swept();
    std::optional<LatticePoint> passed;  // the least, so that the order of the search tells nothing
    before_.grid().in_box(all.lo, all.hi, [&](std::uint32_t s) {
      for (const HalfEdgeId h : {HalfEdgeId{s << 1}, HalfEdgeId{(s << 1) | 1u}}) {
        const LatticePoint p = before_.origin(h);
        if (all.reaches(p) && (!passed || p < *passed) && all.ends.insert(p).second && all.holds(p)) passed = p;
      }
    });
    if (!passed) return std::nullopt;
    const HalfEdgeId h = least_leaving(before_, *before_.vertex_at(*passed));
    const std::string what =
        before_.on_border(Network::seam_of(h)) ? "an opening or an edge of the wall" : words_.between(before_, h);
    return Problem{"The seam would pass over " + what, place_name(*passed), kElsewhere};
  }

  // Seams all of whose places moved hang on nothing that stayed: the nearest other seam must still have their face
  // beside it.
  std::optional<Problem> loose_strayed() const {
    std::unordered_map<LatticePoint, LatticePoint> leader;
    const auto root = [&](LatticePoint p) {
      while (leader.at(p) != p) p = leader.at(p);
      return p;
    };
    for (const auto& [p, count] : ends_) leader[p] = p;
    for (const HalfEdgeId h : laid_) {
      const LatticePoint a = root(now().origin(h)), b = root(now().target(h));
      leader[std::max(a, b)] = std::min(a, b);  // so that the leader is the leftmost, lowest place
    }
    std::set<LatticePoint> loose;
    for (const auto& [p, l] : leader)
      if (l == p) loose.insert(p);
    for (const auto& [p, count] : ends_)
      if (faces_about(now(), *find(p)).size() != static_cast<std::size_t>(count)) loose.erase(root(p));
    for (const LatticePoint p : loose) {
      // The half-edge before the direction of -x when turning counter-clockwise: the one that comes last of those.
      HalfEdgeId last = now().vertex(*find(p)).out;
      const LatticePoint left{p.x - 1, p.y};
      for (HalfEdgeId h = now().turn(last), first = last; h != first; h = now().turn(h))
        if (later(p, left, now().target(h), now().target(last))) last = h;
      if (now().face_at(left).value_or(Network::kOutside) != now().half_edge(last).face)
        return Problem{"The seam would pass over another", place_name(p), kElsewhere};
    }
    return std::nullopt;
  }

  // What of the border was taken up and laid again has the same area.
  bool border_held() const {
    const auto area = [](const Network& n, HalfEdgeId h) {
      const bool outside = n.half_edge(h).face == Network::kOutside, border = n.on_border(Network::seam_of(h));
      return border ? area_along(n, outside ? Network::twin(h) : h) : 0;
    };
    std::int64_t sum = 0;
    for (const SeamId s : plan_.lifted) sum -= area(before_, {s.value << 1});
    for (const HalfEdgeId h : laid_) sum += area(now(), h);
    return sum == 0;
  }

  std::optional<Problem> too_small() const {
    const auto area = [](const Network& n, GiornataId id) {
      std::int64_t sum = 0;
      for (const FaceId f : n.faces_of(id)) sum += n.sums(f).area;
      return sum;
    };
    for (const GiornataId id : touched_) {
      const std::int64_t left = area(now(), id);
      if (left >= kLeastUnits || left >= area(before_, id)) continue;
      return Problem{fmt::format("Only {} cm² of {} would be left", small_cm2(left), words_.name(id)),
                     place_name(to_lattice(before_.place_inside(before_.faces_of(id)[0]))),
                     "A giornata needs at least 1 cm²; move the seam by less, or take the giornata away."};
    }
    return std::nullopt;
  }

  const Network& before_;
  const Recourse& plan_;
  const MoveWords& words_;
  NetworkEditor editor_;
  std::set<FaceId> faces_;
  std::set<GiornataId> touched_;
  std::vector<HalfEdgeId> laid_;
  std::vector<LatticePoint> inner_;
  std::unordered_map<LatticePoint, int> ends_;  // of laid seams at each place
};

}  // namespace

std::optional<Problem> MoveWords::held(const Network& n, FaceId f, LatticePoint at) const {
  const GiornataId owner = f == Network::kOutside ? GiornataId{} : n.face(f).owner;
  const std::string why = owner && hold ? hold(owner) : std::string();
  if (why.empty()) return std::nullopt;
  return Problem{"Its seams stay where they are: " + why, place_name(at), "Choose a seam between other giornate."};
}

std::string MoveWords::name(GiornataId id) const {
  if (!id) return "free wall";
  return names ? names(id) : fmt::format("giornata {}", id.value);
}

std::string MoveWords::between(const Network& n, HalfEdgeId seam) const {
  const auto owner = [&](HalfEdgeId h) {
    const FaceId f = n.half_edge(h).face;
    return f == Network::kOutside ? GiornataId{} : n.face(f).owner;
  };
  const GiornataId a = owner(seam), b = owner(Network::twin(seam));
  if (a == b) return "the seam of " + name(a);
  return fmt::format("the seam between {} and {}", name(a ? a : b), name(a ? b : a));
}

std::int64_t area_along(const Network& network, HalfEdgeId h) {
  const std::int64_t area = network.seam(Network::seam_of(h)).area;
  return (h.value & 1u) ? -area : area;
}

Result<Relaid> lay_anew(const Network& network, const Recourse& plan, const EdgeMeter& meter, const MoveWords& words) {
  return Layer(network, plan, meter, words).run();
}

}  // namespace pontata
