// Which face of a network holds a place, for very many places of one network.
#pragma once

#include "engine/giornate/edge_rows.h"
#include "engine/seams/network.h"

namespace pontata {

class FaceLocator {
 public:
  explicit FaceLocator(const Network& network);
  // Knows only faces whose whole rim is among these seams; of places in others it names any other face.
  FaceLocator(const Network& network, std::span<const SeamId> seams);
  // The face that holds p; for p on a seam the one just above it (left of an upward seam: the one on its right).
  // Network::kOutside beyond the wall. Exact. O(seams that pass p's height).
  FaceId face_at(LatticePoint p) const;

 private:
  EdgeRows rows_;  // upward edges; tag: the face on their right
};

}  // namespace pontata
