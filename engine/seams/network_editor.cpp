#include "engine/seams/network_editor.h"

#include <algorithm>
#include <cmath>

#include "engine/base/predicates.h"

namespace pontata {

namespace {

using Ends = std::pair<LatticePoint, LatticePoint>;  // lesser end first
Ends ends_of(LatticePoint a, LatticePoint b) { return std::minmax(a, b); }

// Direction o->d lies strictly inside the counter-clockwise turn from o->a to o->b; the whole turn when these agree.
bool in_turn(LatticePoint o, LatticePoint a, LatticePoint d, LatticePoint b) {
  const int ad = compare_angle(o, a, d), db = compare_angle(o, d, b), ab = compare_angle(o, a, b);
  if (ad == 0 || db == 0) return false;
  if (ab == 0) return true;
  return ab < 0 ? (ad < 0 && db < 0) : (ad < 0 || db < 0);
}

// Which faces end up on the two sides where several seams come to lie on one stretch: what lies between them vanishes.
struct Sides {
  std::vector<FaceId> left, right;
  // False when more than one face is left on a side.
  bool cancel() {
    for (auto l = left.begin(); l != left.end();) {
      const auto r = std::find(right.begin(), right.end(), *l);
      if (r == right.end()) {
        ++l;
        continue;
      }
      right.erase(r);
      l = left.erase(l);
    }
    return left.size() == right.size() && left.size() <= 1;
  }
};

}  // namespace

SeamMeasure measure_seam(const EdgeMeter& meter, LatticePoint a, LatticePoint b) {
  const EdgeMeasure m = a < b ? meter(a, b) : meter(b, a);
  return {std::llround(m.area_m2 / kAreaUnit), m.bend_m, m.gauss, m.length_m};
}

std::optional<VertexId> NetworkEditor::find_vertex(LatticePoint p) const {
  if (const auto it = known_.find(p); it != known_.end()) return it->second;
  return before_.vertex_at(p);
}

VertexId NetworkEditor::ensure_vertex(LatticePoint p) {
  if (const auto found = find_vertex(p)) {
    known_.emplace(p, *found);
    return *found;
  }
  VertexId v{network_.free_vertex_};
  if (v.value != kNone) {
    network_.free_vertex_ = static_cast<std::uint32_t>(network_.vertices_[v.value].place.x);
    network_.vertices_.set(v.value, {p, {kNone}});
  } else {
    v.value = static_cast<std::uint32_t>(network_.vertices_.size());
    network_.vertices_.push_back({p, {kNone}});
  }
  known_.emplace(p, v);
  return v;
}

void NetworkEditor::release_loose_vertices() {
  std::vector<std::uint32_t> loose;
  for (const auto& [place, v] : known_)
    if (!network_.alive(v)) loose.push_back(v.value);
  std::sort(loose.begin(), loose.end());
  for (const std::uint32_t v : loose) {
    network_.vertices_.set(v, {{network_.free_vertex_, 0}, {kNone}});
    network_.free_vertex_ = v;
  }
}

std::uint32_t NetworkEditor::new_seam() {
  ++network_.live_seams_;
  const std::uint32_t s = network_.free_seam_;
  if (s != kNone) {
    network_.free_seam_ = network_.half_edges_[s << 1].next.value;
    network_.seams_.set(s, {});
    return s;
  }
  network_.half_edges_.push_back({});
  network_.half_edges_.push_back({});
  network_.seams_.push_back({});
  return static_cast<std::uint32_t>(network_.seams_.size() - 1);
}

void NetworkEditor::link(HalfEdgeId a, HalfEdgeId b) {
  network_.half_edges_.edit(a.value).next = b;
  network_.half_edges_.edit(b.value).prev = a;
  touched_.push_back(a);
  touched_.push_back(b);
}

std::optional<HalfEdgeId> NetworkEditor::edge_between(LatticePoint a, LatticePoint b) const {
  const auto v = find_vertex(a);
  if (!v || !network_.alive(*v)) return std::nullopt;
  const HalfEdgeId first = network_.vertex(*v).out;
  HalfEdgeId h = first;
  do {
    if (network_.target(h) == b) return h;
    h = network_.turn(h);
  } while (h != first);
  return std::nullopt;
}

// The half-edge leaving v that comes last before the direction when turning counter-clockwise.
std::optional<HalfEdgeId> NetworkEditor::clockwise_of(VertexId v, LatticePoint towards) const {
  const LatticePoint o = network_.vertex(v).place;
  const HalfEdgeId first = network_.vertex(v).out;
  HalfEdgeId h = first;
  do {
    const HalfEdgeId following = network_.turn(h);
    if (in_turn(o, network_.target(h), towards, network_.target(following))) return h;
    h = following;
  } while (h != first);
  return std::nullopt;
}

std::optional<HalfEdgeId> NetworkEditor::add_seam(LatticePoint a, LatticePoint b, FaceId left, FaceId right) {
  const VertexId from = ensure_vertex(a), to = ensure_vertex(b);
  std::optional<HalfEdgeId> at_from, at_to;
  if (network_.alive(from) && !(at_from = clockwise_of(from, b))) return std::nullopt;
  if (network_.alive(to) && !(at_to = clockwise_of(to, a))) return std::nullopt;
  const std::uint32_t s = new_seam();
  const HalfEdgeId h{(s << 1) | (a < b ? 0u : 1u)}, t = Network::twin(h);
  network_.half_edges_.set(h.value, {from, {kNone}, {kNone}, left});
  network_.half_edges_.set(t.value, {to, {kNone}, {kNone}, right});
  const auto splice = [&](VertexId v, std::optional<HalfEdgeId> beside, HalfEdgeId out) {
    if (beside) {
      const HalfEdgeId arriving = network_.half_edge(*beside).prev;
      link(arriving, out);
      link(Network::twin(out), *beside);
    } else {
      link(Network::twin(out), out);
      network_.vertices_.edit(v.value).out = out;
    }
  };
  splice(from, at_from, h);
  splice(to, at_to, t);
  network_.grid_.add(s, a, b);
  fresh_.push_back({s});
  return h;
}

// Takes h out of the turn at its origin.
void NetworkEditor::detach(HalfEdgeId h) {
  const HalfEdgeId t = Network::twin(h), arriving = network_.half_edge(h).prev, leaving = network_.half_edge(t).next;
  const VertexId v = network_.half_edge(h).origin;
  known_.emplace(network_.vertex(v).place, v);
  if (arriving == t) {
    network_.vertices_.edit(v.value).out = {kNone};
    return;
  }
  link(arriving, leaving);
  if (network_.vertex(v).out == h) network_.vertices_.edit(v.value).out = leaving;
}

void NetworkEditor::remove_seam(SeamId s) {
  const HalfEdgeId h{s.value << 1}, t = Network::twin(h);
  network_.grid_.remove(s.value, network_.origin(h), network_.target(h));
  detach(h);
  detach(t);
  touched_.push_back(h);
  touched_.push_back(t);
  network_.half_edges_.set(h.value, {{kNone}, {network_.free_seam_}, {kNone}, {kNone}});
  network_.half_edges_.set(t.value, {});
  network_.seams_.set(s.value, {});
  network_.free_seam_ = s.value;
  --network_.live_seams_;
}

void NetworkEditor::unite(FaceId a, FaceId b) {
  a = root(a);
  b = root(b);
  if (a != b) united_[std::max(a, b)] = std::min(a, b);
}

void NetworkEditor::open_seam(SeamId s) {
  unite(network_.half_edge({s.value << 1}).face, network_.half_edge({(s.value << 1) | 1u}).face);
  remove_seam(s);
}

bool NetworkEditor::lead_seams(const std::map<SeamId, std::vector<LatticePoint>>& courses) {
  std::map<Ends, Sides> pieces;
  const auto put = [&](LatticePoint a, LatticePoint b, FaceId left, FaceId right) {
    Sides& sides = pieces[ends_of(a, b)];
    sides.left.push_back(a < b ? left : right);
    sides.right.push_back(a < b ? right : left);
  };
  const auto lift = [&](SeamId s, const std::vector<LatticePoint>& course) {
    const FaceId left = network_.half_edge({s.value << 1}).face, right = network_.half_edge({(s.value << 1) | 1u}).face;
    if (network_.on_border(s)) border_.push_back({network_.seam(s).area, course});
    remove_seam(s);
    for (std::size_t i = 0; i + 1 < course.size(); ++i) put(course[i], course[i + 1], left, right);
  };
  for (const auto& [s, course] : courses) lift(s, course);
  std::vector<Ends> stretches;
  for (const auto& [ends, sides] : pieces) stretches.push_back(ends);
  for (const auto& [a, b] : stretches)
    if (const auto there = edge_between(a, b)) lift(Network::seam_of(*there), {a, b});
  for (auto& [ends, sides] : pieces) {
    if (!sides.cancel()) return false;
    if (sides.left.empty()) continue;
    const FaceId left = sides.left[0], right = sides.right[0];
    // Where what parted two faces of one giornata has vanished, they become one.
    if (left != Network::kOutside && right != Network::kOutside &&
        network_.face(left).owner == network_.face(right).owner)
      unite(left, right);
    else if (!add_seam(ends.first, ends.second, left, right))
      return false;
  }
  return true;
}

bool NetworkEditor::label_new(const std::vector<HalfEdgeId>& fresh, const Network& ground) {
  std::vector<std::vector<HalfEdgeId>> cycles;
  std::vector<FaceId> labels;
  std::unordered_map<HalfEdgeId, std::size_t> cycle_of;
  std::vector<std::size_t> ready;
  for (const HalfEdgeId first : fresh) {
    if (cycle_of.count(first)) continue;
    FaceId label{kNone};
    std::vector<HalfEdgeId> unlabelled;
    for (const HalfEdgeId h : network_.cycle(first)) {
      const FaceId face = network_.half_edge(h).face;
      if (face.value == kNone) {
        unlabelled.push_back(h);
        cycle_of[h] = cycles.size();
      } else if (label.value == kNone) {
        label = face;
      } else if (root(label) != root(face)) {
        return false;
      }
    }
    if (label.value != kNone) ready.push_back(cycles.size());
    cycles.push_back(std::move(unlabelled));
    labels.push_back(label);
  }
  // A new seam lies inside one face: what is known on one side holds on the other.
  for (std::size_t next_unknown = 0;;) {
    while (!ready.empty()) {
      const std::size_t c = ready.back();
      ready.pop_back();
      for (const HalfEdgeId h : cycles[c]) {
        const std::size_t other = cycle_of.at(Network::twin(h));
        if (labels[other].value == kNone) {
          labels[other] = labels[c];
          ready.push_back(other);
        } else if (root(labels[other]) != root(labels[c])) {
          return false;
        }
      }
    }
    while (next_unknown < cycles.size() && labels[next_unknown].value != kNone) ++next_unknown;
    if (next_unknown == cycles.size()) break;
    labels[next_unknown] = ground.face_at(network_.origin(cycles[next_unknown].front())).value_or(Network::kOutside);
    ready.push_back(next_unknown);
  }
  for (std::size_t c = 0; c < cycles.size(); ++c)
    for (const HalfEdgeId h : cycles[c]) network_.half_edges_.edit(h.value).face = labels[c];
  return true;
}

bool NetworkEditor::measure_new() {
  std::sort(fresh_.begin(), fresh_.end());
  fresh_.erase(std::unique(fresh_.begin(), fresh_.end()), fresh_.end());
  for (const SeamId s : fresh_)
    if (network_.alive(s))
      network_.seams_.set(s.value,
                          measure_seam(*meter_, network_.origin({s.value << 1}), network_.target({s.value << 1})));
  fresh_.clear();
  std::map<Ends, int> cover;
  for (const auto& kept : border_)
    for (std::size_t i = 0; i + 1 < kept.course.size(); ++i) ++cover[ends_of(kept.course[i], kept.course[i + 1])];
  for (const auto& kept : border_)
    if (!hold_border(kept, cover)) return false;
  border_.clear();
  return true;
}

// Shares out what rounding and the turned-aside course add or take among the pieces that no other border shares, by
// length, so that none is off by more than half a pitch along it.
bool NetworkEditor::hold_border(const BorderCourse& kept, const std::map<Ends, int>& cover) {
  std::int64_t sum = 0;
  double whole = 0;
  std::vector<HalfEdgeId> own;
  for (std::size_t i = 0; i + 1 < kept.course.size(); ++i) {
    const LatticePoint a = kept.course[i], b = kept.course[i + 1];
    const auto h = edge_between(a, b);
    const SeamMeasure m = h ? network_.seam(Network::seam_of(*h)) : measure_seam(*meter_, a, b);
    sum += a < b ? m.area : -m.area;
    if (!h || cover.at(ends_of(a, b)) != 1) continue;
    own.push_back(*h);
    whole += m.length_m;
  }
  const std::int64_t off = kept.area - sum;
  if (off == 0) return true;
  if (own.empty()) return false;
  double upto = 0;
  std::int64_t given = 0;
  for (const HalfEdgeId h : own) {
    SeamMeasure& m = network_.seams_.edit(Network::seam_of(h).value);
    upto += m.length_m;
    const std::int64_t until =
        h == own.back() || !(whole > 0) ? off : std::llround(static_cast<double>(off) * (upto / whole));
    m.area += (h.value & 1u) ? given - until : until - given;
    given = until;
  }
  return true;
}

}  // namespace pontata
