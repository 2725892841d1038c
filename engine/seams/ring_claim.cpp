#include "engine/seams/ring_claim.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "engine/base/predicates.h"
#include "engine/seams/cut_contacts.h"
#include "engine/seams/least_piece.h"
#include "engine/seams/network_cut.h"

namespace pontata {

namespace {

struct Box {
  LatticePoint lo, hi;
  bool has(LatticePoint p) const { return lo.x <= p.x && p.x <= hi.x && lo.y <= p.y && p.y <= hi.y; }
};

Box box_of(const Ring& ring) {
  Box box{ring[0], ring[0]};
  for (const auto& p : ring) {
    box.lo = {std::min(box.lo.x, p.x), std::min(box.lo.y, p.y)};
    box.hi = {std::max(box.hi.x, p.x), std::max(box.hi.y, p.y)};
  }
  return box;
}

// Faces to be taken that lie inside the ring after it was laid and settled. Where the ring runs along a face's rim that
// tells; a face it does not run along lies wholly inside or outside.
class Covered {
 public:
  Covered(const NetworkEditor& editor, const Ring& ring, const LaidLine& laid, const ClaimRule& rule)
      : network_(editor.network()), rule_(rule), near_(box_of(ring)) {
    for (const auto& p : ring) ring_.push_back({2 * p.x, 2 * p.y});
    box_ = box_of(ring_);
    for (const auto* list : {&laid.fresh, &laid.shared})
      for (const auto& [a, b] : *list)
        if (const auto h = editor.edge_between(a, b)) {
          along_.insert(*h);
          note(*h, true);
          note(Network::twin(*h), false);
        }
  }

  // False when one face came out both inside and outside.
  bool find() {
    std::set<FaceId> candidates;
    for (const SeamId s : network_.seams_near(near_.lo, near_.hi))
      for (const HalfEdgeId h : {HalfEdgeId{s.value << 1}, HalfEdgeId{(s.value << 1) | 1u}})
        if (const FaceId f = network_.half_edge(h).face; to_take(f)) candidates.insert(f);
    for (const FaceId f : candidates) {
      const auto known = inside_.find(f);
      if (known == inside_.end() ? wholly_inside(f) : known->second) found_.push_back(f);
    }
    return sound_;
  }

  const std::vector<FaceId>& found() const { return found_; }

  // Owners beside what was found that the ring goes around.
  void add_surrounded(std::set<GiornataId>& owners) const {
    for (const FaceId f : found_)
      for (const auto& cycle : network_.cycles(f))
        for (const HalfEdgeId h : cycle) {
          const FaceId other = network_.half_edge(Network::twin(h)).face;
          if (other != Network::kOutside && !to_take(other) && !along_.count(h))
            owners.insert(network_.face(other).owner);
        }
  }

 private:
  bool to_take(FaceId f) const { return f != Network::kOutside && rule_.takes_from(network_.face(f).owner); }

  void note(HalfEdgeId h, bool inside) {
    const FaceId f = network_.half_edge(h).face;
    if (!to_take(f)) return;
    const auto [it, fresh] = inside_.emplace(f, inside);
    if (!fresh && it->second != inside) sound_ = false;
  }

  bool wholly_inside(FaceId f) const {
    HalfEdgeId h = network_.face(f).outer;
    const HalfEdgeId first = h;
    do {
      const LatticePoint a = network_.origin(h), b = network_.target(h), middle{a.x + b.x, a.y + b.y};
      if (!box_.has(middle)) return false;
      if (const int side = point_in_ring(ring_, middle); side != 0) return side > 0;
      h = network_.half_edge(h).next;
    } while (h != first);
    return false;
  }

  const Network& network_;
  const ClaimRule& rule_;
  Box near_;
  Ring ring_;  // in half pitches
  Box box_;
  std::set<HalfEdgeId> along_;
  std::map<FaceId, bool> inside_;
  std::vector<FaceId> found_;
  bool sound_ = true;
};

// Giornate, `spared` ones left out, with the faces on the courses that are theirs: those that are new since `before`,
// and those that were theirs.
struct OnCourses {
  std::set<FaceId> fresh, old;
};
std::map<GiornataId, OnCourses> along_courses(const NetworkEditor& editor, const Network& before,
                                              const Courses& courses, const std::function<bool(FaceId)>& spared) {
  const Network& n = editor.network();
  std::map<GiornataId, OnCourses> found;
  const auto see = [&](FaceId f) {
    if (f == Network::kOutside || !n.face(f).owner || spared(f)) return;
    const GiornataId owner = n.face(f).owner;
    const bool was = f.value < before.face_slots() && before.face(f).alive && before.face(f).owner == owner;
    (was ? found[owner].old : found[owner].fresh).insert(f);
  };
  for (const auto& [s, course] : courses)
    for (std::size_t i = 0; i + 1 < course.size(); ++i)
      if (const auto h = editor.edge_between(course[i], course[i + 1]))
        see(n.half_edge(*h).face), see(n.half_edge(Network::twin(*h)).face);
  return found;
}

}  // namespace

Problem too_close() {
  return {"The outline runs too close to other seams to be cut in cleanly", "",
          "Let it follow the existing seam, or keep a millimetre away from it."};
}

Problem outside_wall() { return {"The outline lies outside the wall", "", "Draw it on the wall."}; }

Problem too_small(std::int64_t area, bool overlap) {
  return {fmt::format("Only {} cm² {}", small_cm2(area),
                      overlap ? "of this outline is left beside earlier giornate" : "lies inside this outline"),
          "", "A giornata needs at least 1 cm²; draw a larger outline."};
}

Result<std::set<GiornataId>> claim(Network& network, const Ring& ring, const ClaimRule& rule, const EdgeMeter& meter) {
  const auto snapped = snap_line(network, ring, true);
  if (!snapped) return too_close();
  const Wanted wanted = [&](FaceId f) { return f != Network::kOutside && rule.takes_from(network.face(f).owner); };
  auto full = lay_line(network, meter, snapped->courses, net_stretches(snapped->line, true), wanted);
  if (!full) return too_close();
  LaidLine laid = lay_lean(network, meter, snapped->courses, std::move(*full), wanted);
  NetworkEditor& editor = laid.editor;
  if (!editor.settle() || !editor.measure_new()) return too_close();
  Covered covered(editor, snapped->line, laid, rule);
  if (!covered.find()) return too_close();
  std::set<GiornataId> others = std::move(laid.elsewhere);
  covered.add_surrounded(others);
  for (const FaceId f : covered.found()) editor.set_owner(f, rule.becomes(editor.network().face(f).owner));
  const std::set<FaceId> taken(covered.found().begin(), covered.found().end());
  const auto spared = [&](FaceId f) { return taken.contains(f) || rule.takes_from(editor.network().face(f).owner); };
  if (!shed_tips(editor, network, snapped->courses, spared)) return too_close();
  network = editor.take();
  return others;
}

std::vector<Piece> pieces_of(const Network& network, std::span<const FaceId> faces, const Chart* chart) {
  auto contacts = chart ? cut_contacts(network, *chart) : std::vector<CutContact>{};
  if (faces.size() > 1)
    for (const FaceId f : faces)
      for (const auto& cycle : network.cycles(f))
        for (const HalfEdgeId h : cycle) contacts.push_back({h, Network::twin(h)});
  std::vector<Piece> found;
  for (auto& group : joined_across(network, faces, contacts)) {
    Piece piece{0, std::move(group)};
    for (const FaceId f : piece.faces) piece.area += network.sums(f).area;
    found.push_back(std::move(piece));
  }
  std::sort(found.begin(), found.end(),
            [](const Piece& a, const Piece& b) { return a.area != b.area ? a.area > b.area : a.faces < b.faces; });
  return found;
}

std::set<SeamId> idle_seams(const Network& network, std::span<const FaceId> faces) {
  std::set<SeamId> found;
  for (const FaceId f : faces)
    for (const auto& cycle : network.cycles(f))
      for (const HalfEdgeId h : cycle) {
        const FaceId other = network.half_edge(Network::twin(h)).face;
        if (other != Network::kOutside && network.face(other).owner == network.face(f).owner)
          found.insert(Network::seam_of(h));
      }
  return found;
}

bool open_seams(NetworkEditor& editor, const std::set<SeamId>& seams) {
  for (const SeamId s : seams) editor.open_seam(s);
  return seams.empty() || editor.settle();
}

std::optional<GiornataId> nearest_owner(const Network& n, FaceId f) {
  std::map<GiornataId, double> shared;
  for (const auto& cycle : n.cycles(f))
    for (const HalfEdgeId h : cycle)
      if (const FaceId other = n.half_edge(Network::twin(h)).face; other != Network::kOutside)
        shared[n.face(other).owner] += n.seam(Network::seam_of(h)).length_m;
  shared.erase(n.face(f).owner);
  const auto most =
      std::max_element(shared.begin(), shared.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
  return most == shared.end() ? std::nullopt : std::optional(most->first);
}

bool shed_tips(NetworkEditor& editor, const Network& before, const Courses& courses,
               const std::function<bool(FaceId)>& spared) {
  const Network& n = editor.network();
  std::vector<FaceId> tips;
  for (const auto& [owner, on] : along_courses(editor, before, courses, spared)) {
    if (on.fresh.empty()) continue;
    // As many as came off, the least of them: which of its parts kept a face's id says nothing of their size.
    std::vector<FaceId> parts(on.fresh.begin(), on.fresh.end());
    parts.insert(parts.end(), on.old.begin(), on.old.end());
    std::stable_sort(parts.begin(), parts.end(), [&](FaceId a, FaceId b) { return n.sums(a).area < n.sums(b).area; });
    for (std::size_t i = 0; i < on.fresh.size(); ++i) {
      if (!is_sliver(n.sums(parts[i]))) return false;
      tips.push_back(parts[i]);
    }
  }
  for (const FaceId f : tips) {
    const auto owner = nearest_owner(n, f);
    if (!owner) return false;
    editor.set_owner(f, *owner);
  }
  return tips.empty() || open_seams(editor, idle_seams(n, tips));
}

bool is_sliver(const FaceSums& sums) {
  return static_cast<double>(sums.area) * kAreaUnit <= kSliverWidth * sums.perimeter_m;
}

bool absorb_slivers(NetworkEditor& editor, FaceId made) {
  const Network& n = editor.network();
  std::set<FaceId> beside;
  for (const auto& cycle : n.cycles(made))
    for (const HalfEdgeId h : cycle)
      if (const FaceId f = n.half_edge(Network::twin(h)).face; f != Network::kOutside && !n.face(f).owner)
        beside.insert(f);
  std::vector<FaceId> taken;
  for (const FaceId f : beside)
    if (is_sliver(n.sums(f))) taken.push_back(f);
  for (const FaceId f : taken) editor.set_owner(f, n.face(made).owner);
  return open_seams(editor, idle_seams(n, taken));
}

double area_m2(const Network& network, std::span<const FaceId> faces) {
  double sum = 0;
  for (const FaceId f : faces) sum += static_cast<double>(network.sums(f).area) * kAreaUnit;
  return sum;
}

}  // namespace pontata
