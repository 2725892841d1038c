// Runs of seams between the same two. Internal to engine/review.
#pragma once

#include <vector>

#include "engine/review/rules.h"

namespace pontata {

// As half-edges of the first, one after another.
struct SeamChain {
  GiornataId first, second;
  std::vector<HalfEdgeId> seams;
};

// Each seam between two once: from the smaller id, or from the giornata where the other is the rest. The wall's border
// is left out.
std::vector<SeamChain> seam_chains(const Case& c);

// A piece of a chain with its length on the surface.
struct ChainPiece {
  Vec2 from{0, 0}, to{0, 0};  // chart m
  double length_m = 0;
};
// The chain in pieces of about `step_m`, in order; a seam longer than that is parted evenly.
std::vector<ChainPiece> pieces_of_chain(const Network& network, const SeamChain& chain, double step_m);

}  // namespace pontata
