// The second half of NetworkEditor: faces made to fit the cycles again after seams came and went.
#include <algorithm>
#include <unordered_set>

#include "engine/base/predicates.h"
#include "engine/seams/network_editor.h"

namespace pontata {

namespace {

LatticePoint doubled(LatticePoint p) { return {2 * p.x, 2 * p.y}; }

struct OuterRim {
  Ring ring;  // in half pitches, so that midpoints of seams are exact
  std::unordered_set<std::uint32_t> seams;
  LatticePoint lo, hi;
  Int128 area = 0;
};

OuterRim rim_of(const Network& network, HalfEdgeId start) {
  OuterRim rim;
  for (const HalfEdgeId h : network.cycle(start)) {
    rim.ring.push_back(doubled(network.origin(h)));
    rim.seams.insert(Network::seam_of(h).value);
  }
  rim.lo = rim.hi = rim.ring[0];
  for (const auto& p : rim.ring) {
    rim.lo = {std::min(rim.lo.x, p.x), std::min(rim.lo.y, p.y)};
    rim.hi = {std::max(rim.hi.x, p.x), std::max(rim.hi.y, p.y)};
  }
  rim.area = twice_area(rim.ring);
  return rim;
}

// The cycle lies inside the rim, of which it may touch vertices. Its first seam that is none of the rim's tells.
bool holds(const OuterRim& rim, const Network& network, HalfEdgeId start) {
  HalfEdgeId h = start;
  do {
    const LatticePoint a = network.origin(h), b = network.target(h);
    const LatticePoint middle{a.x + b.x, a.y + b.y};
    if (middle.x < rim.lo.x || middle.x > rim.hi.x || middle.y < rim.lo.y || middle.y > rim.hi.y) return false;
    if (!rim.seams.contains(Network::seam_of(h).value))
      if (const int side = point_in_ring(rim.ring, middle); side != 0) return side > 0;
    h = network.half_edge(h).next;
  } while (h != start);
  return false;
}

}  // namespace

FaceId NetworkEditor::new_face() {
  const FaceId f{network_.free_face_};
  if (f.value == kNone) {
    network_.faces_.push_back({});
    return {static_cast<std::uint32_t>(network_.faces_.size() - 1)};
  }
  network_.free_face_ = network_.face(f).outer.value;
  network_.faces_.set(f.value, {});
  return f;
}

void NetworkEditor::release_face(FaceId f) {
  network_.faces_.set(f.value, {false, {}, {network_.free_face_}, {}});
  network_.free_face_ = f.value;
}

FaceId NetworkEditor::root(FaceId f) const {
  for (auto it = united_.find(f); it != united_.end(); it = united_.find(f)) f = it->second;
  return f;
}

// Marks the half-edges of every cycle of the network before that has changed, and lists them after those touched.
std::vector<char> NetworkEditor::trace_old_cycles(std::vector<HalfEdgeId>& candidates) const {
  std::vector<char> seen(before_.half_edge_slots(), 0);
  for (const HalfEdgeId first : touched_) {
    candidates.push_back(first);
    if (first.value >= seen.size() || seen[first.value] || !before_.alive(first)) continue;
    HalfEdgeId h = first;
    do {
      seen[h.value] = 1;
      candidates.push_back(h);
      h = before_.half_edge(h).next;
    } while (h != first);
  }
  return seen;
}

// One cycle as it is now; its start is its least half-edge. nullopt when its labels disagree or it encloses nothing.
std::optional<NetworkEditor::Cycle> NetworkEditor::trace_cycle(HalfEdgeId start, std::vector<char>& seen) const {
  const FaceId cls = root(network_.half_edge(start).face);
  Cycle cycle{start, false};
  Int128 area = 0;
  HalfEdgeId h = start;
  do {
    const NetworkHalfEdge& record = network_.half_edge(h);
    if (record.face.value == kNone || root(record.face) != cls) return std::nullopt;
    seen[h.value] = 1;
    cycle.start = std::min(cycle.start, h);
    const LatticePoint a = network_.origin(h), b = network_.target(h);
    area += static_cast<Int128>(a.x) * b.y - static_cast<Int128>(b.x) * a.y;
    h = record.next;
  } while (h != start);
  if (area == 0) return std::nullopt;
  cycle.outer = area > 0;
  return cycle;
}

bool NetworkEditor::settle() {
  release_loose_vertices();
  std::vector<HalfEdgeId> candidates;
  const std::vector<char> old_seen = trace_old_cycles(candidates);
  std::map<FaceId, std::vector<Cycle>> by_class;
  for (const HalfEdgeId h : candidates)
    if (h.value < old_seen.size() && old_seen[h.value]) by_class[root(before_.half_edge(h).face)];
  std::vector<char> seen(network_.half_edge_slots(), 0);
  for (const HalfEdgeId h : candidates) {
    if (!network_.alive(h) || seen[h.value]) continue;
    const auto cycle = trace_cycle(h, seen);
    if (!cycle) return false;
    by_class[root(network_.half_edge(h).face)].push_back(*cycle);
  }
  for (auto& [cls, cycles] : by_class)
    if (!settle_class(cls, std::move(cycles), old_seen)) return false;
  before_ = network_;
  touched_.clear();
  known_.clear();
  united_.clear();
  return true;
}

bool NetworkEditor::settle_class(FaceId cls, std::vector<Cycle> cycles, const std::vector<char>& old_seen) {
  std::vector<FaceId> labels{cls};
  for (const auto& [f, to] : united_)
    if (root(f) == cls && f != cls) labels.push_back(f);
  for (const FaceId f : labels) {
    const NetworkFace& old = before_.face(f);
    if (old.outer.value != kNone && !old_seen[old.outer.value]) cycles.push_back({old.outer, true, false});
    for (const HalfEdgeId h : old.inner)
      if (!old_seen[h.value]) cycles.push_back({h, false, false});
  }
  std::sort(cycles.begin(), cycles.end(), [](const Cycle& a, const Cycle& b) { return a.start < b.start; });
  if (cls == Network::kOutside) {
    std::vector<HalfEdgeId> starts;
    for (const Cycle& c : cycles) starts.push_back(c.start);
    network_.faces_.edit(cls.value).inner = std::move(starts);
    return true;
  }
  const GiornataId owner = network_.face(cls).owner;
  std::vector<Group> groups;
  if (!group_cycles(cycles, groups)) return false;
  const auto ids = choose_ids(labels, groups);
  for (std::size_t i = 0; i < groups.size(); ++i) write_face(ids[i], owner, groups[i]);
  for (const FaceId f : labels)
    if (std::find(ids.begin(), ids.end(), f) == ids.end()) release_face(f);
  return true;
}

// One group for each outer cycle; an inner cycle goes to the least outer one around it.
bool NetworkEditor::group_cycles(const std::vector<Cycle>& cycles, std::vector<Group>& groups) const {
  for (const Cycle& c : cycles)
    if (c.outer) groups.push_back({c});
  if (groups.empty()) return cycles.empty();
  std::vector<OuterRim> rims;
  if (groups.size() > 1)
    for (const Group& g : groups) rims.push_back(rim_of(network_, g[0].start));
  for (const Cycle& c : cycles) {
    if (c.outer) continue;
    std::size_t best = 0;
    if (groups.size() > 1) {
      best = groups.size();
      for (std::size_t g = 0; g < groups.size(); ++g)
        if ((best == groups.size() || rims[g].area < rims[best].area) && holds(rims[g], network_, c.start)) best = g;
      if (best == groups.size()) return false;
    }
    groups[best].push_back(c);
  }
  return true;
}

std::vector<FaceId> NetworkEditor::choose_ids(const std::vector<FaceId>& labels, const std::vector<Group>& groups) {
  std::vector<FaceId> ids(groups.size(), FaceId{kNone});
  if (groups.size() == 1 && labels.size() == 1) return {labels[0]};
  struct Claim {
    std::size_t count, group;
    FaceId label;
  };
  std::vector<Claim> claims;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    std::map<FaceId, std::size_t> count;
    for (const Cycle& c : groups[g])
      for (const HalfEdgeId h : network_.cycle(c.start)) ++count[network_.half_edge(h).face];
    for (const auto& [label, n] : count) claims.push_back({n, g, label});
  }
  std::stable_sort(claims.begin(), claims.end(), [](const Claim& a, const Claim& b) { return a.count > b.count; });
  for (const Claim& c : claims)
    if (ids[c.group].value == kNone && std::find(ids.begin(), ids.end(), c.label) == ids.end()) ids[c.group] = c.label;
  for (FaceId& id : ids)
    if (id.value == kNone) id = new_face();
  return ids;
}

void NetworkEditor::write_face(FaceId id, GiornataId owner, const Group& group) {
  NetworkFace face{true, owner, group[0].start, {}};
  for (std::size_t i = 1; i < group.size(); ++i) face.inner.push_back(group[i].start);
  for (const Cycle& c : group) {
    if (!c.touched && network_.half_edge(c.start).face == id) continue;
    HalfEdgeId h = c.start;
    do {
      const NetworkHalfEdge& record = network_.half_edge(h);
      const HalfEdgeId following = record.next;
      if (record.face != id) network_.half_edges_.edit(h.value).face = id;
      h = following;
    } while (h != c.start);
  }
  network_.faces_.set(id.value, std::move(face));
}

}  // namespace pontata
