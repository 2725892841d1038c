// Changes to a network below the level of giornate: seams in and out, each spliced into the angular order at its ends,
// and afterwards the faces made anew from the cycles that changed. Internal to engine/seams.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "engine/seams/network.h"

namespace pontata {

// "at U V", chart metres.
std::string place_name(LatticePoint p);

// The measure of a seam between two places, from its lesser end to its greater, so that the same stretch gets the same
// integers whichever way it was drawn.
SeamMeasure measure_seam(const EdgeMeter& meter, LatticePoint a, LatticePoint b);

class NetworkEditor {
 public:
  NetworkEditor(Network network, const EdgeMeter& meter)
      : network_(std::move(network)), before_(network_), meter_(&meter) {}

  const Network& network() const { return network_; }
  Network take() { return std::move(network_); }

  std::optional<HalfEdgeId> edge_between(LatticePoint a, LatticePoint b) const;

  // Puts a seam in; the half-edge from a to b comes back. Its measure stays zero until measure_new. nullopt when
  // another seam leaves either end in the same direction. `left` may be kNone: label_new finds out.
  std::optional<HalfEdgeId> add_seam(LatticePoint a, LatticePoint b, FaceId left, FaceId right);
  void remove_seam(SeamId s);
  // Removes the seam and lets the faces on its two sides become one at the next settle.
  void open_seam(SeamId s);

  // Puts seams whose course changed along their new courses (each from the origin of half-edge 2k to its target).
  // Courses that come to lie on each other, or on other seams, are merged. False when the labels contradict each other.
  bool lead_seams(const std::map<SeamId, std::vector<LatticePoint>>& courses);

  // Finds the faces of half-edges put in with label kNone, from the cycles they joined; for a component that touches
  // nothing, from where it lies in `ground` (the network without them). False on a contradiction.
  bool label_new(const std::vector<HalfEdgeId>& fresh, const Network& ground);

  // Seams put in along this course will together carry this area (from its first place to its last), whatever they
  // measure: what a border took up and laid anew keeps.
  void hold_area(std::int64_t area, std::vector<LatticePoint> course) { border_.push_back({area, std::move(course)}); }

  void set_owner(FaceId f, GiornataId owner) { network_.faces_.edit(f.value).owner = owner; }

  // Makes the faces fit the cycles again. The part with most of the old rim keeps an old face's id. False when the
  // cycles contradict each other.
  bool settle();

  // Measures what add_seam put in. The pieces of a border seam together keep its integer, so the wall's area never
  // changes; false if that cannot be held.
  bool measure_new();

 private:
  struct Cycle {
    HalfEdgeId start;
    bool outer = false;
    bool touched = true;  // since the last settle; else all its half-edges still carry one label
  };
  using Group = std::vector<Cycle>;  // cycles of one face to be, the outer one first
  struct BorderCourse {
    std::int64_t area = 0;  // along the whole course
    std::vector<LatticePoint> course;
  };

  std::optional<VertexId> find_vertex(LatticePoint p) const;
  VertexId ensure_vertex(LatticePoint p);
  void release_loose_vertices();
  std::optional<HalfEdgeId> clockwise_of(VertexId v, LatticePoint towards) const;
  void link(HalfEdgeId a, HalfEdgeId b);
  void detach(HalfEdgeId h);
  std::uint32_t new_seam();
  FaceId new_face();
  void release_face(FaceId f);
  FaceId root(FaceId f) const;
  void unite(FaceId a, FaceId b);

  std::vector<char> trace_old_cycles(std::vector<HalfEdgeId>& candidates) const;
  std::optional<Cycle> trace_cycle(HalfEdgeId start, std::vector<char>& seen) const;
  bool settle_class(FaceId cls, std::vector<Cycle> cycles, const std::vector<char>& old_seen);
  bool group_cycles(const std::vector<Cycle>& cycles, std::vector<Group>& groups) const;
  std::vector<FaceId> choose_ids(const std::vector<FaceId>& labels, const std::vector<Group>& groups);
  void write_face(FaceId id, GiornataId owner, const Group& group);
  bool hold_border(const BorderCourse& kept, const std::map<std::pair<LatticePoint, LatticePoint>, int>& cover);

  Network network_, before_;
  const EdgeMeter* meter_;
  std::vector<HalfEdgeId> touched_;                   // since the last settle
  std::vector<SeamId> fresh_;                         // not measured yet
  std::unordered_map<LatticePoint, VertexId> known_;  // places looked up since the last settle
  std::vector<BorderCourse> border_;
  std::map<FaceId, FaceId> united_;
};

}  // namespace pontata
