// The slots in which two networks differ, and how they are written. Internal to network_step.
#pragma once

#include <set>
#include <vector>

#include "engine/base/adaptive_coder.h"
#include "engine/seams/network.h"

namespace pontata {

struct NetworkDelta {
  std::size_t seam_slots = 0, vertex_slots = 0, face_slots = 0;  // of the network that is made
  std::size_t live_seams = 0;
  std::uint32_t free_seam = kNone, free_vertex = kNone, free_face = kNone;
  // Slots that differ, rising, and what stands in them then: two half-edges a seam.
  std::vector<std::uint32_t> seam_at, vertex_at, face_at;
  std::vector<NetworkHalfEdge> half;
  std::vector<SeamMeasure> measure;
  std::vector<NetworkVertex> vertex;
  std::vector<NetworkFace> face;

  static NetworkDelta between(const Network& from, const Network& to);
  Network applied(const Network& from) const;
  // Nothing differs. Precondition: between(from, ...).
  bool empty_against(const Network& from) const;

  // Seams (slots) whose half-edges or ends may differ between the two.
  static std::set<std::uint32_t> touched(const Network& from, const Network& to);
};

// Writes the delta, or reads it (Coder: PackWriter, PackReader). `meter` as in NetworkStep.
template <class Coder>
void code_delta(Coder& coder, NetworkDelta& delta, const Network& from, const EdgeMeter& meter);

}  // namespace pontata
