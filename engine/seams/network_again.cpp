#include "engine/seams/network_again.h"

#include <algorithm>
#include <map>
#include <set>

#include "engine/seams/network_cut.h"
#include "engine/seams/ring_claim.h"

namespace pontata {

namespace {

Problem cannot_lay() {
  return {"The seams and the wall's new edge come too close to be told apart", "",
          "Move the opening by a millimetre, or take away the giornata beside it."};
}

// Half-edges of a network by their ends.
class HalfEdges {
 public:
  explicit HalfEdges(const Network& network) : network_(network) {
    for (std::uint32_t h = 0; h < network.half_edge_slots(); ++h)
      if (network.alive(HalfEdgeId{h})) known_[{network.origin({h}), network.target({h})}] = {h};
  }
  std::optional<FaceId> left_of(LatticePoint a, LatticePoint b) const {
    const auto it = known_.find({a, b});
    if (it == known_.end()) return std::nullopt;
    return network_.half_edge(it->second).face;
  }

 private:
  const Network& network_;
  std::map<Stretch, HalfEdgeId> known_;
};

GiornataId owner_of(const Network& n, HalfEdgeId h) {
  const FaceId f = n.half_edge(h).face;
  return f == Network::kOutside ? GiornataId{} : n.face(f).owner;
}

// What several lines ask of one seam of the border, in one course.
Courses merged(const Network& ground, const std::vector<Courses>& all) {
  std::map<SeamId, std::set<LatticePoint>> inner;
  for (const auto& courses : all)
    for (const auto& [s, course] : courses) inner[s].insert(course.begin() + 1, course.end() - 1);
  Courses found;
  for (const auto& [s, points] : inner) {
    const LatticePoint a = ground.origin({s.value << 1}), b = ground.target({s.value << 1});
    const auto ahead = [&](LatticePoint p) {
      return static_cast<Int128>(b.x - a.x) * (p.x - a.x) + static_cast<Int128>(b.y - a.y) * (p.y - a.y);
    };
    std::vector<LatticePoint> sorted(points.begin(), points.end());
    std::stable_sort(sorted.begin(), sorted.end(), [&](auto p, auto q) { return ahead(p) < ahead(q); });
    auto& course = found[s] = {a};
    course.insert(course.end(), sorted.begin(), sorted.end());
    course.push_back(b);
  }
  return found;
}

struct Lines {
  std::vector<Stretch> stretches;  // each once
  Courses courses;
};

// The old seams that bound a giornata, led through what they meet of the new border.
std::optional<Lines> old_lines(const Network& old, const Network& ground) {
  const HalfEdges border(ground);
  std::vector<Courses> courses;
  std::set<Stretch> seen;
  Lines lines;
  for (std::uint32_t s = 0; s < old.half_edge_slots() / 2; ++s) {
    const HalfEdgeId h{s << 1};
    if (!old.alive(h) || owner_of(old, h) == owner_of(old, Network::twin(h))) continue;
    const LatticePoint a = old.origin(h), b = old.target(h);
    if (border.left_of(a, b)) continue;
    auto snapped = snap_line(ground, {a, b}, false);
    if (!snapped) return std::nullopt;
    for (const auto& stretch : net_stretches(snapped->line, false))
      if (seen.insert(std::minmax(stretch.first, stretch.second)).second) lines.stretches.push_back(stretch);
    if (!snapped->courses.empty()) courses.push_back(std::move(snapped->courses));
  }
  lines.courses = merged(ground, courses);
  return lines;
}

// The old owner of a face, told by the old seams it has on its rim; without one, by a place inside.
GiornataId old_owner(const Network& n, FaceId f, const Network& old, const HalfEdges& known) {
  for (const auto& cycle : n.cycles(f))
    for (const HalfEdgeId h : cycle) {
      const auto face = known.left_of(n.origin(h), n.target(h));
      if (face && *face != Network::kOutside) return old.face(*face).owner;
    }
  return old.owner_at(to_lattice(n.place_inside(f)));
}

// Tips that rounding pinched off their giornata, where its rim was led through a point of the border, go to what they
// lie beside. False on a contradiction.
bool give_tips(NetworkEditor& editor) {
  const Network& n = editor.network();
  std::map<GiornataId, FaceId> largest;
  for (const FaceId f : n.faces())
    if (const auto [it, fresh] = largest.emplace(n.face(f).owner, f);
        !fresh && n.sums(f).area > n.sums(it->second).area)
      it->second = f;
  std::vector<FaceId> tips;
  for (const FaceId f : n.faces())
    if (const GiornataId owner = n.face(f).owner; owner && f != largest[owner] && is_sliver(n.sums(f)))
      tips.push_back(f);
  for (const FaceId f : tips)
    if (const auto owner = nearest_owner(n, f)) editor.set_owner(f, *owner);
  return open_seams(editor, idle_seams(n, tips));
}

}  // namespace

Result<Network> lay_again(const Network& old, std::span<const Ring> border, const EdgeMeter& meter) {
  const auto ground = Network::from_border(border, meter);
  if (!ground) return ground.problem();
  const auto lines = old_lines(old, *ground);
  if (!lines) return cannot_lay();
  auto laid =
      lay_line(*ground, meter, lines->courses, lines->stretches, [](FaceId f) { return f != Network::kOutside; });
  if (!laid || !laid->editor.settle() || !laid->editor.measure_new()) return cannot_lay();
  NetworkEditor& editor = laid->editor;
  const HalfEdges known(old);
  for (const FaceId f : editor.network().faces()) editor.set_owner(f, old_owner(editor.network(), f, old, known));
  const Network& n = editor.network();
  std::vector<SeamId> idle;
  for (std::uint32_t s = 0; s < n.half_edge_slots() / 2; ++s)
    if (n.alive(SeamId{s}) && !n.on_border({s}) && owner_of(n, {s << 1}) == owner_of(n, {(s << 1) | 1u}))
      idle.push_back({s});
  for (const SeamId s : idle) editor.open_seam(s);
  if (!idle.empty() && !editor.settle()) return cannot_lay();
  if (!give_tips(editor)) return cannot_lay();
  Network made = editor.take();
  if (!made.check().empty()) return cannot_lay();
  return made;
}

}  // namespace pontata
