#include "engine/seams/network_step.h"

#include <algorithm>
#include <set>

#include "engine/seams/network_delta.h"

namespace pontata {

namespace {

bool same(const NetworkHalfEdge& a, const NetworkHalfEdge& b) {
  return a.origin == b.origin && a.next == b.next && a.prev == b.prev && a.face == b.face;
}
bool same(const NetworkVertex& a, const NetworkVertex& b) { return a.place == b.place && a.out == b.out; }
bool same(const NetworkFace& a, const NetworkFace& b) {
  return a.alive == b.alive && a.owner == b.owner && a.outer == b.outer && a.inner == b.inner;
}
bool same(const SeamMeasure& a, const SeamMeasure& b) {
  const auto bits = [](double x) { return std::bit_cast<std::uint64_t>(x); };
  return a.area == b.area && bits(a.bend_m) == bits(b.bend_m) && bits(a.gauss) == bits(b.gauss) &&
         bits(a.length_m) == bits(b.length_m);
}

// Slots of `to` that `from` does not have like that, rising.
template <class T>
std::vector<std::uint32_t> changed_slots(const PersistentVector<T>& from, const PersistentVector<T>& to) {
  std::vector<std::uint32_t> found;
  PersistentVector<T>::visit_unshared(from, to, [&](std::size_t i) {
    if (i < to.size() && (i >= from.size() || !same(from[i], to[i]))) found.push_back(static_cast<std::uint32_t>(i));
  });
  return found;
}

template <class T>
void resize(PersistentVector<T>& list, std::size_t size) {
  while (list.size() > size) list.pop_back();
  while (list.size() < size) list.push_back({});
}

// Seams that leave a living vertex.
void add_around(const Network& n, VertexId v, std::set<std::uint32_t>& seams) {
  if (v.value >= n.vertex_slots() || !n.alive(v)) return;
  const HalfEdgeId first = n.vertex(v).out;
  HalfEdgeId h = first;
  do {
    seams.insert(h.value >> 1);
    h = n.turn(h);
  } while (h != first);
}

bool lives(const Network& n, std::uint32_t s) { return 2 * s < n.half_edge_slots() && n.alive(SeamId{s}); }

GiornataId owner_beside(const Network& n, HalfEdgeId h) {
  const FaceId f = n.half_edge(h).face;
  return f == Network::kOutside ? GiornataId{} : n.face(f).owner;
}

bool same_course(const Network& a, const Network& b, std::uint32_t s) {
  const HalfEdgeId h{s << 1};
  return lives(a, s) && lives(b, s) && a.origin(h) == b.origin(h) && a.target(h) == b.target(h);
}

// Seams of half-edges.
std::set<std::uint32_t> seams_of(const std::vector<std::uint32_t>& half_edges) {
  std::set<std::uint32_t> seams;
  for (const std::uint32_t h : half_edges) seams.insert(h >> 1);
  return seams;
}

// A face that both networks have with the same owner.
bool same_owner(const Network& a, const Network& b, FaceId f) {
  if (f.value >= a.face_slots() || f.value >= b.face_slots()) return false;
  return a.face(f).alive == b.face(f).alive && a.face(f).owner == b.face(f).owner;
}

}  // namespace

std::set<std::uint32_t> NetworkDelta::touched(const Network& from, const Network& to) {
  auto seams = seams_of(changed_slots(from.half_edges_, to.half_edges_));
  for (std::size_t s = to.seams_.size(); s < from.seams_.size(); ++s) seams.insert(static_cast<std::uint32_t>(s));
  for (const auto* pair : {&from, &to}) {
    const Network& other = pair == &from ? to : from;
    PersistentVector<NetworkVertex>::visit_unshared(from.vertices_, to.vertices_, [&](std::size_t i) {
      const VertexId v{static_cast<std::uint32_t>(i)};
      if (i < other.vertices_.size() && i < pair->vertices_.size() &&
          pair->vertices_[i].place == other.vertices_[i].place)
        return;
      add_around(*pair, v, seams);
    });
  }
  return seams;
}

NetworkDelta NetworkDelta::between(const Network& from, const Network& to) {
  NetworkDelta d;
  d.seam_slots = to.seams_.size(), d.vertex_slots = to.vertices_.size(), d.face_slots = to.faces_.size();
  d.live_seams = to.live_seams_;
  d.free_seam = to.free_seam_, d.free_vertex = to.free_vertex_, d.free_face = to.free_face_;
  auto seams = seams_of(changed_slots(from.half_edges_, to.half_edges_));
  for (const std::uint32_t s : changed_slots(from.seams_, to.seams_)) seams.insert(s);
  d.seam_at.assign(seams.begin(), seams.end());
  for (const std::uint32_t s : d.seam_at) {
    d.half.push_back(to.half_edges_[2 * s]);
    d.half.push_back(to.half_edges_[2 * s + 1]);
    d.measure.push_back(to.seams_[s]);
  }
  d.vertex_at = changed_slots(from.vertices_, to.vertices_);
  for (const std::uint32_t v : d.vertex_at) d.vertex.push_back(to.vertices_[v]);
  d.face_at = changed_slots(from.faces_, to.faces_);
  for (const std::uint32_t f : d.face_at) d.face.push_back(to.faces_[f]);
  return d;
}

Network NetworkDelta::applied(const Network& from) const {
  Network to = from;
  resize(to.half_edges_, 2 * seam_slots);
  resize(to.seams_, seam_slots);
  resize(to.vertices_, vertex_slots);
  resize(to.faces_, face_slots);
  for (std::size_t i = 0; i < seam_at.size(); ++i) {
    const std::uint32_t s = seam_at[i];
    for (const std::uint32_t side : {0u, 1u})
      if (!pontata::same(to.half_edges_[2 * s + side], half[2 * i + side]))
        to.half_edges_.set(2 * s + side, half[2 * i + side]);
    if (!pontata::same(to.seams_[s], measure[i])) to.seams_.set(s, measure[i]);
  }
  for (std::size_t i = 0; i < vertex_at.size(); ++i) to.vertices_.set(vertex_at[i], vertex[i]);
  for (std::size_t i = 0; i < face_at.size(); ++i) to.faces_.set(face_at[i], face[i]);
  to.live_seams_ = live_seams;
  to.free_seam_ = free_seam, to.free_vertex_ = free_vertex, to.free_face_ = free_face;
  if (from.faces_.empty()) {
    to.index_seams();
    return to;
  }
  const auto moved = touched(from, to);
  for (const std::uint32_t s : moved)
    if (lives(from, s) && !same_course(from, to, s)) to.grid_.remove(s, from.origin({s << 1}), from.target({s << 1}));
  for (const std::uint32_t s : moved)
    if (lives(to, s) && !same_course(from, to, s)) to.grid_.add(s, to.origin({s << 1}), to.target({s << 1}));
  return to;
}

void NetworkStep::write(PackWriter& out, const Network& from, const Network& to, const EdgeMeter& meter) {
  NetworkDelta delta = NetworkDelta::between(from, to);
  code_delta(out, delta, from, meter);
}

Network NetworkStep::read(PackReader& in, const Network& from, const EdgeMeter& meter) {
  NetworkDelta delta;
  code_delta(in, delta, from, meter);
  return delta.applied(from);
}

bool NetworkStep::same(const Network& a, const Network& b) { return NetworkDelta::between(a, b).empty_against(a); }

std::vector<SeamId> NetworkStep::changed_seams(const Network& a, const Network& b) {
  auto seams = NetworkDelta::touched(a, b);
  PersistentVector<NetworkFace>::visit_unshared(a.faces_, b.faces_, [&](std::size_t i) {
    const FaceId f{static_cast<std::uint32_t>(i)};
    if (f == Network::kOutside || same_owner(a, b, f)) return;
    for (const Network* n : {&a, &b})
      if (i < n->face_slots() && n->face(f).alive)
        for (const auto& cycle : n->cycles(f))
          for (const HalfEdgeId h : cycle) seams.insert(h.value >> 1);
  });
  std::vector<SeamId> found;
  for (const std::uint32_t s : seams) {
    const HalfEdgeId h{s << 1};
    if (same_course(a, b, s) && owner_beside(a, h) == owner_beside(b, h) &&
        owner_beside(a, Network::twin(h)) == owner_beside(b, Network::twin(h)))
      continue;
    if (lives(a, s) || lives(b, s)) found.push_back({s});
  }
  return found;
}

}  // namespace pontata
