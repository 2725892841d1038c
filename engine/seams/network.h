// The seam network: a half-edge planar subdivision over lattice points. Giornate are its faces; what no giornata
// covers is one or more rest faces. A value: copies share their parts (PersistentVector), so undo keeps old ones.
//
// Invariants (checked by `check`): twins pair up; next/prev are inverse and stay in one face; every vertex's half-edges
// are in angular order; edges meet only at vertices (exact); every face has one outer cycle (counter-clockwise, the
// face on its left) and any number of inner cycles (clockwise); the outside of the wall is one special face that owns
// the border's outer half-edges; area integers are negated on twins; face areas sum exactly to the wall.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/base/ids.h"
#include "engine/base/lattice.h"
#include "engine/base/persistent_vector.h"
#include "engine/base/result.h"
#include "engine/chart/metric.h"
#include "engine/seams/network_grid.h"

namespace pontata {

inline constexpr double kAreaUnit = 1e-12;  // m^2 in one unit of the network's area integers

// One seam, measured once when it is made, from its half-edge 2k; its twin sees the negative.
struct SeamMeasure {
  std::int64_t area = 0;  // in kAreaUnit
  double bend_m = 0, gauss = 0, length_m = 0;
};

struct NetworkVertex {
  LatticePoint place;
  HalfEdgeId out{kNone};  // one half-edge leaving here
};
struct NetworkHalfEdge {
  VertexId origin{kNone};
  HalfEdgeId next{kNone}, prev{kNone};
  FaceId face{kNone};
};
struct NetworkFace {
  bool alive = true;
  GiornataId owner;               // none: unassigned rest
  HalfEdgeId outer{kNone};        // a half-edge of the outer cycle; kNone for the outside face
  std::vector<HalfEdgeId> inner;  // one half-edge of each inner cycle
};

// Sums over a face, from its rim.
struct FaceSums {
  std::int64_t area = 0;  // kAreaUnit, exact sum of the seams' integers
  double bend_m = 0, gauss = 0;
  double perimeter_m = 0;
};

class Network {
 public:
  Network() = default;
  // One rest face inside the outer ring (counter-clockwise) with holes (clockwise). Rings as from Chart::border_rings.
  static Result<Network> from_border(std::span<const Ring> rings, const EdgeMeter& meter);

  static constexpr FaceId kOutside{0};

  std::size_t face_slots() const { return faces_.size(); }  // some may be dead
  std::size_t half_edge_slots() const { return half_edges_.size(); }
  std::size_t vertex_slots() const { return vertices_.size(); }
  const NetworkFace& face(FaceId f) const { return faces_[f.value]; }
  const NetworkHalfEdge& half_edge(HalfEdgeId h) const { return half_edges_[h.value]; }
  const NetworkVertex& vertex(VertexId v) const { return vertices_[v.value]; }
  const SeamMeasure& seam(SeamId s) const { return seams_[s.value]; }
  bool alive(HalfEdgeId h) const { return half_edges_[h.value].origin.value != kNone; }
  bool alive(SeamId s) const { return alive(HalfEdgeId{s.value << 1}); }
  bool alive(VertexId v) const { return vertices_[v.value].out.value != kNone; }
  bool on_border(SeamId s) const {
    return half_edge({s.value << 1}).face == kOutside || half_edge({(s.value << 1) | 1u}).face == kOutside;
  }
  std::size_t live_seams() const { return live_seams_; }
  static HalfEdgeId twin(HalfEdgeId h) { return HalfEdgeId{h.value ^ 1u}; }
  static SeamId seam_of(HalfEdgeId h) { return SeamId{h.value >> 1}; }
  LatticePoint origin(HalfEdgeId h) const { return vertex(half_edge(h).origin).place; }
  LatticePoint target(HalfEdgeId h) const { return origin(twin(h)); }
  HalfEdgeId turn(HalfEdgeId h) const { return twin(half_edge(h).prev); }  // next leaving the same vertex, ccw

  std::vector<FaceId> faces() const;                            // alive, the outside left out
  std::vector<FaceId> faces_of(GiornataId owner) const;         // GiornataId{}: the rest
  std::vector<HalfEdgeId> cycle(HalfEdgeId start) const;        // start, next, ...
  std::vector<std::vector<HalfEdgeId>> cycles(FaceId f) const;  // outer first
  // Outer first, counter-clockwise; inner clockwise. A ring passes a vertex twice where the face touches itself there.
  std::vector<Ring> rings(FaceId f) const;
  FaceSums sums(FaceId f) const;
  std::int64_t wall_area() const;                       // kAreaUnit, from the border
  std::optional<FaceId> face_at(LatticePoint p) const;  // nullopt outside the wall or exactly on a seam
  GiornataId owner_at(LatticePoint p) const;

  // Every seam that passes the box [lo, hi], and perhaps more whose own box meets it; each once, by id.
  std::vector<SeamId> seams_near(LatticePoint lo, LatticePoint hi) const;
  std::optional<VertexId> vertex_at(LatticePoint p) const;
  const SeamGrid& grid() const { return grid_; }
  // A place well inside the face, for labels and messages; on a thin face merely inside.
  ChartPoint place_inside(FaceId f) const;

  // Every invariant, with the place of each fault; empty when sound. O(n log n).
  std::vector<Problem> check() const;

  // Calls f(address, bytes) for every shared part: lets a test count what two copies do not share.
  template <class F>
  void visit_nodes(F&& f) const {
    vertices_.visit_nodes(f);
    half_edges_.visit_nodes(f);
    seams_.visit_nodes(f);
    faces_.visit_nodes(f);
    grid_.visit_nodes(f);
  }

 private:
  friend class NetworkEditor;
  friend struct NetworkCodec;  // engine/seams/network_codec.h: to and from the project file
  friend struct NetworkStep;   // engine/seams/network_step.h: from one network to another
  friend struct NetworkDelta;  // engine/seams/network_delta.h: the difference of two
  void index_seams();          // makes grid_ anew
  PersistentVector<NetworkVertex> vertices_;
  PersistentVector<NetworkHalfEdge> half_edges_;
  PersistentVector<SeamMeasure> seams_;
  PersistentVector<NetworkFace> faces_;
  SeamGrid grid_;
  std::size_t live_seams_ = 0;
  // First of each chain of free slots, linked through a dead seam's half_edges_[2k].next, a dead vertex's place.x and a
  // dead face's outer; kNone ends a chain.
  std::uint32_t free_seam_ = kNone, free_vertex_ = kNone, free_face_ = kNone;
};

}  // namespace pontata
