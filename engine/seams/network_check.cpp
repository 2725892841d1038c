// Every invariant of a network, found without the editor's help: its own angular sort, its own cells, its own cycles.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "engine/base/predicates.h"
#include "engine/seams/network.h"
#include "engine/seams/network_editor.h"

namespace pontata {

namespace {

constexpr std::size_t kMostFaults = 20;

class Checker {
 public:
  explicit Checker(const Network& network) : n_(network) {}

  std::vector<Problem> run() {
    if (n_.face_slots() == 0) {
      if (n_.half_edge_slots() + n_.vertex_slots() > 0) fault("seams without any face", {});
      return faults_;
    }
    if (!n_.face(Network::kOutside).alive) fault("the outside is missing", {});
    // Later checks walk along links, so they only start once the links are sound.
    if (!links()) return faults_;
    vertices();
    crossings();
    cycles();
    if (faults_.empty()) areas();
    return faults_;
  }

 private:
  void fault(const std::string& what, std::optional<LatticePoint> where) {
    if (faults_.size() < kMostFaults)
      faults_.push_back({"Seam network: " + what, where ? place_name(*where) : std::string(),
                         "Undo the last change, or open the recovery copy."});
  }
  HalfEdgeId half(std::size_t i) const { return {static_cast<std::uint32_t>(i)}; }
  bool valid_half(HalfEdgeId h) const { return h.value < n_.half_edge_slots() && n_.alive(h); }

  bool links() {
    if (n_.half_edge_slots() % 2 != 0) fault("half-edges do not come in pairs", {});
    std::size_t live = 0;
    for (std::size_t i = 0; i < n_.half_edge_slots() && faults_.empty(); ++i) {
      const HalfEdgeId h = half(i);
      if (n_.alive(h) != n_.alive(Network::twin(h))) fault("half a seam is missing", {});
      if (!n_.alive(h)) continue;
      live += i % 2;
      const auto& e = n_.half_edge(h);
      if (e.origin.value >= n_.vertex_slots() || !n_.alive(e.origin)) fault("a seam starts nowhere", {});
      if (!valid_half(e.next) || !valid_half(e.prev)) fault("a rim is broken", {});
      if (e.face.value >= n_.face_slots() || !n_.face(e.face).alive) fault("a seam has no face beside it", {});
      if (!faults_.empty()) break;
      if (n_.half_edge(e.next).prev != h || n_.half_edge(e.prev).next != h) fault("a rim is broken", n_.origin(h));
      if (n_.half_edge(e.next).face != e.face) fault("a rim passes from one face to another", n_.origin(h));
      if (n_.half_edge(e.next).origin != n_.half_edge(Network::twin(h)).origin) fault("a rim has a gap", n_.origin(h));
    }
    if (live != n_.live_seams()) fault("the count of seams is wrong", {});
    for (std::size_t i = 0; i < n_.vertex_slots() && faults_.empty(); ++i) {
      const VertexId v{static_cast<std::uint32_t>(i)};
      if (!n_.alive(v)) continue;
      if (!valid_half(n_.vertex(v).out) || n_.half_edge(n_.vertex(v).out).origin != v)
        fault("a seam's end has no seam", n_.vertex(v).place);
    }
    return faults_.empty();
  }

  // Directions about each vertex, and one vertex to a place.
  void vertices() {
    std::vector<std::vector<HalfEdgeId>> leaving(n_.vertex_slots());
    for (std::size_t i = 0; i < n_.half_edge_slots(); ++i)
      if (n_.alive(half(i))) leaving[n_.half_edge(half(i)).origin.value].push_back(half(i));
    std::unordered_map<LatticePoint, int> places;
    for (std::size_t i = 0; i < leaving.size(); ++i) {
      const VertexId v{static_cast<std::uint32_t>(i)};
      if (!n_.alive(v)) continue;
      const LatticePoint o = n_.vertex(v).place;
      if (std::abs(o.x) >= kLatticeLimit || std::abs(o.y) >= kLatticeLimit) fault("a place is out of range", o);
      if (++places[o] > 1) fault("two ends of seams share one place without being joined", o);
      auto& around = leaving[i];
      bool degenerate = around.size() < 2;
      for (const HalfEdgeId h : around) degenerate |= n_.target(h) == o;
      if (degenerate) {
        fault("a seam ends loosely or has no length", o);
        continue;
      }
      std::sort(around.begin(), around.end(),
                [&](HalfEdgeId a, HalfEdgeId b) { return compare_angle(o, n_.target(a), n_.target(b)) < 0; });
      for (std::size_t k = 0; k < around.size(); ++k) {
        const HalfEdgeId a = around[k], b = around[(k + 1) % around.size()];
        if (compare_angle(o, n_.target(a), n_.target(b)) == 0) fault("two seams lie on each other", o);
        if (Network::twin(n_.half_edge(a).prev) != b) fault("seams are joined in the wrong order", o);
      }
    }
  }

  // Seams meet only at vertices; and the index lists each seam where it passes.
  void crossings() {
    LatticePoint lo{kLatticeLimit, kLatticeLimit}, hi{-kLatticeLimit, -kLatticeLimit};
    std::vector<std::uint32_t> live;
    for (std::uint32_t s = 0; s < n_.half_edge_slots() / 2; ++s) {
      if (!n_.alive(SeamId{s})) continue;
      live.push_back(s);
      for (const LatticePoint p : {n_.origin({s << 1}), n_.target({s << 1})}) {
        lo = {std::min(lo.x, p.x), std::min(lo.y, p.y)};
        hi = {std::max(hi.x, p.x), std::max(hi.y, p.y)};
      }
    }
    if (live.empty()) return fault("there are no seams", {});
    const int side = std::clamp(static_cast<int>(std::sqrt(static_cast<double>(live.size()))), 4, 1024);
    const CellFrame frame = CellFrame::over(lo, hi, side, 0);
    std::vector<std::vector<std::uint32_t>> cells(static_cast<std::size_t>(frame.columns) *
                                                  static_cast<std::size_t>(frame.rows));
    std::size_t entries = 0;
    for (const std::uint32_t s : live) {
      if (faults_.size() >= kMostFaults) return;
      const LatticePoint a = n_.origin({s << 1}), b = n_.target({s << 1});
      frame.walk(a, b, 0, [&](int c, int r) {
        auto& cell =
            cells[static_cast<std::size_t>(r) * static_cast<std::size_t>(frame.columns) + static_cast<std::size_t>(c)];
        for (const std::uint32_t o : cell)
          if (faults_.size() < kMostFaults) meet(s, o);
        cell.push_back(s);
      });
      n_.grid().frame().walk(a, b, 0, [&](int c, int r) {
        bool listed = false;
        n_.grid().in_cell(c, r, [&](std::uint32_t o) { listed |= o == s; });
        if (!listed) fault("a seam is missing from the index", a);
        ++entries;
      });
    }
    if (entries != n_.grid().entries()) fault("the index lists seams that are not there", {});
  }

  void meet(std::uint32_t s, std::uint32_t o) {
    const LatticePoint a = n_.origin({s << 1}), b = n_.target({s << 1}), c = n_.origin({o << 1}),
                       d = n_.target({o << 1});
    if (std::min(a.x, b.x) > std::max(c.x, d.x) || std::max(a.x, b.x) < std::min(c.x, d.x) ||
        std::min(a.y, b.y) > std::max(c.y, d.y) || std::max(a.y, b.y) < std::min(c.y, d.y))
      return;
    // Seams that share an end in different directions (checked at the vertex) cannot meet again.
    if (a == c || a == d || b == c || b == d) return;
    if (segments_meet(a, b, c, d)) fault("two seams cross without being joined", a);
  }

  // Every half-edge lies in one listed cycle of its face; outer ones turn left, inner ones right and lie inside.
  void cycles() {
    std::vector<char> seen(n_.half_edge_slots(), 0);
    for (std::uint32_t i = 0; i < n_.face_slots(); ++i) {
      const FaceId f{i};
      const NetworkFace& face = n_.face(f);
      if (!face.alive) continue;
      if ((f == Network::kOutside) != (face.outer.value == kNone)) {
        fault("a face has no rim, or the outside has one", {});
        continue;
      }
      if (f == Network::kOutside && face.owner) fault("the outside belongs to a giornata", {});
      std::vector<HalfEdgeId> starts = face.inner;
      if (f != Network::kOutside) starts.insert(starts.begin(), face.outer);
      for (const HalfEdgeId h : starts)
        if (!valid_half(h) || n_.half_edge(h).face != f) return fault("a face's rim belongs to another face", {});
      std::vector<Ring> rings;
      for (const HalfEdgeId start : starts) {
        if (seen[start.value]) fault("a rim is listed twice", n_.origin(start));
        Ring& ring = rings.emplace_back();
        for (const HalfEdgeId h : n_.cycle(start)) {
          seen[h.value] = 1;
          ring.push_back({2 * n_.origin(h).x, 2 * n_.origin(h).y});
        }
      }
      if (f != Network::kOutside) nesting(rings);
    }
    for (std::size_t i = 0; i < seen.size(); ++i)
      if (!seen[i] && n_.alive(half(i))) return fault("a rim is listed by no face", n_.origin(half(i)));
  }

  struct Box {
    LatticePoint lo, hi;
  };
  static Box box_of(const Ring& ring) {
    Box box{ring[0], ring[0]};
    for (const auto& p : ring) {
      box.lo = {std::min(box.lo.x, p.x), std::min(box.lo.y, p.y)};
      box.hi = {std::max(box.hi.x, p.x), std::max(box.hi.y, p.y)};
    }
    return box;
  }
  // Rings in half pitches, outer first.
  void nesting(const std::vector<Ring>& rings) {
    const auto place = [&](const Ring& r) { return LatticePoint{r[0].x / 2, r[0].y / 2}; };
    std::vector<Box> boxes;
    for (const Ring& r : rings) boxes.push_back(box_of(r));
    // Islands by the cells their boxes cover, so that each is held against few others.
    const CellFrame frame = CellFrame::over(boxes[0].lo, boxes[0].hi, 32, 0);
    std::unordered_map<int, std::vector<std::size_t>> cells;
    for (std::size_t i = 1; i < rings.size(); ++i)
      for (int r = frame.row(boxes[i].lo.y); r <= frame.row(boxes[i].hi.y); ++r)
        for (int c = frame.column(boxes[i].lo.x); c <= frame.column(boxes[i].hi.x); ++c)
          cells[r * frame.columns + c].push_back(i);
    for (std::size_t i = 0; i < rings.size(); ++i) {
      const Int128 area = twice_area(rings[i]);
      if (area == 0 || (area > 0) != (i == 0)) fault("a face's rim runs the wrong way round", place(rings[i]));
      if (i == 0) continue;
      if (where(rings[0], boxes[0], rings[i]) <= 0) fault("an island lies outside its face", place(rings[i]));
      for (const std::size_t j : cells[frame.row(rings[i][0].y) * frame.columns + frame.column(rings[i][0].x)])
        if (j != i && where(rings[j], boxes[j], rings[i]) > 0) fault("an island lies inside another", place(rings[i]));
    }
  }
  static int where(const Ring& ring, const Box& box, const Ring& other) {
    for (std::size_t k = 0; k < other.size(); ++k) {
      const LatticePoint a = other[k], b = other[(k + 1) % other.size()], m{(a.x + b.x) / 2, (a.y + b.y) / 2};
      if (m.x < box.lo.x || m.x > box.hi.x || m.y < box.lo.y || m.y > box.hi.y) return -1;
      if (const int side = point_in_ring(ring, m); side != 0) return side;
    }
    return 0;
  }

  void areas() {
    Int128 exact = 0;
    std::int64_t units = 0;
    for (std::uint32_t i = 0; i < n_.face_slots(); ++i) {
      if (!n_.face({i}).alive) continue;
      for (const Ring& ring : n_.rings({i})) exact += twice_area(ring);
      if (i > 0) units += n_.sums({i}).area;
    }
    if (exact != 0) fault("the faces do not cover the wall once", {});
    if (units != n_.wall_area()) fault("the faces' areas do not add up to the wall's", {});
    for (std::uint32_t s = 0; s < n_.half_edge_slots() / 2; ++s) {
      const SeamMeasure& m = n_.seam({s});
      if (!n_.alive(SeamId{s})) continue;
      if (!std::isfinite(m.bend_m) || !std::isfinite(m.gauss) || !std::isfinite(m.length_m) || m.length_m < 0)
        fault("a seam's measure is not a number", n_.origin({s << 1}));
    }
  }

  const Network& n_;
  std::vector<Problem> faults_;
};

}  // namespace

std::vector<Problem> Network::check() const {
  std::vector<Problem> faults = Checker(*this).run();
  // Free slots: each dead slot stands once in its chain.
  const auto chain = [&](std::uint32_t first, std::size_t slots, auto&& dead, auto&& next, const char* name) {
    std::size_t count = 0, length = 0;
    for (std::uint32_t i = 0; i < slots; ++i) count += dead(i);
    for (std::uint32_t i = first; i != kNone && length <= count; i = next(i), ++length)
      if (i >= slots || !dead(i)) break;
    if (length != count)
      faults.push_back({std::string("Seam network: the list of free ") + name + " is broken", "", ""});
  };
  chain(
      free_seam_, seams_.size(), [&](std::uint32_t s) { return !alive(SeamId{s}); },
      [&](std::uint32_t s) { return half_edges_[s << 1].next.value; }, "seams");
  chain(
      free_vertex_, vertices_.size(), [&](std::uint32_t v) { return !alive(VertexId{v}); },
      [&](std::uint32_t v) { return static_cast<std::uint32_t>(vertices_[v].place.x); }, "ends");
  chain(
      free_face_, faces_.size(), [&](std::uint32_t f) { return !faces_[f].alive; },
      [&](std::uint32_t f) { return faces_[f].outer.value; }, "faces");
  return faults;
}

}  // namespace pontata
