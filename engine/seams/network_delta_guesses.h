// What a reader of a delta knows of the network to be made while it reads on, and what that lets it expect next; the
// writer forms the same expectations. Internal to network_delta.
#pragma once

#include <cstdint>
#include <unordered_map>
#include <vector>

#include "engine/seams/network_delta.h"

namespace pontata {

class DeltaGuesses {
 public:
  static constexpr std::int64_t kNobody = -1;
  static std::int64_t number(std::uint32_t id) { return id == kNone ? kNobody : static_cast<std::int64_t>(id); }

 protected:
  // Both outlive this; the delta is filled in while it is read.
  DeltaGuesses(const NetworkDelta& delta, const Network& from) : delta_(delta), from_(from) {}

  // Once the slots that differ are known.
  void index();

  static constexpr std::size_t kNotHere = static_cast<std::size_t>(-1);
  std::size_t seam_here(std::uint32_t h) const;  // where the delta has the half-edge's seam
  bool was_seam(std::uint32_t s) const { return 2 * s < from_.half_edge_slots() && from_.alive(SeamId{s}); }
  bool was_vertex(std::uint32_t v) const { return v < from_.vertex_slots() && from_.alive(VertexId{v}); }
  // What a slot was before: 0 none, 1 free, 2 in use.
  std::size_t seam_before(std::uint32_t s) const { return 2 * s >= from_.half_edge_slots() ? 0 : was_seam(s) ? 2 : 1; }
  std::size_t vertex_before(std::uint32_t v) const { return v >= from_.vertex_slots() ? 0 : was_vertex(v) ? 2 : 1; }
  const NetworkHalfEdge* before(std::uint32_t h) const { return was_seam(h >> 1) ? &from_.half_edge({h}) : nullptr; }
  // The half-edge as it will be (fields not read yet are none), or as it stays.
  const NetworkHalfEdge* now(std::uint32_t h) const;
  bool lives(std::size_t i) const { return seam_lives_[i] != 0; }
  // The seam (slot) that followed the half-edge, or came before it.
  std::uint32_t neighbour_before(std::uint32_t h, bool ahead) const;

  // The vertex a half-edge leaves: found by turning about it to one that is known.
  std::uint32_t origin_guess(std::uint32_t h) const;
  // The half-edges of the delta on h's cycle up to one whose face is known, which is put into `label`.
  std::vector<std::size_t> rest_of_cycle(std::uint32_t h, std::int64_t& label) const;
  // nullptr where it is not known yet.
  const LatticePoint* place_of_origin(std::uint32_t h) const;
  // Between two known neighbours; or straight on from one.
  LatticePoint place_guess(std::uint32_t out, LatticePoint last) const;

  const NetworkDelta& delta_;
  const Network& from_;
  // Gathered by the coder as it goes.
  std::vector<char> seam_lives_, vertex_lives_, face_lives_, known_origin_, known_place_;
  std::unordered_map<std::uint32_t, std::size_t> seam_index_;      // slot to place in the delta
  std::unordered_map<std::uint32_t, std::uint32_t> follows_;       // half-edge to the one before it, of those read
  std::unordered_map<std::uint32_t, std::uint32_t> starts_;        // half-edge to the vertex whose `out` it is
  std::unordered_map<std::uint32_t, std::uint32_t> rims_;          // half-edge to the face that begins there
  std::unordered_map<std::uint32_t, std::uint32_t> chained_from_;  // free seam to the one before it in the chain
};

}  // namespace pontata
