// Atoms joined in pairs, over and over: moves of large pieces find what moves of small ones would not.
//
// Based on: Karypis and Kumar, "A fast and high quality multilevel scheme for partitioning irregular graphs", 1998
// (heavy-edge matching). Internal to engine/proposal.
#pragma once

#include <span>

#include "engine/proposal/atoms.h"

namespace pontata {

struct Coarsened {
  AtomGraph graph;
  std::vector<std::uint32_t> of;  // coarse atom of each fine one
};

// Each atom joined with the neighbour that it would cost most to be parted from, for its size; none above
// `most_hours`, none whose decks do not agree. With `alike`, a number for each atom, only those that have the same are
// joined. About half as many atoms come out.
Coarsened coarsen(const AtomGraph& graph, double most_hours, std::uint32_t seed,
                  std::span<const std::uint32_t> alike = {});

}  // namespace pontata
