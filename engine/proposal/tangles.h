// Whether groups of atoms can be painted one after the other at all: water runs from the upper onto the lower, and
// decks are worked from the highest. Internal to engine/proposal.
#pragma once

#include <span>

#include "engine/proposal/gather.h"

namespace pontata {

inline constexpr double kRunsOnto = 0.05;  // m of edge that water runs over; less is a dab

// Something that must be before something else.
struct MustPrecede {
  std::uint32_t before = 0, after = 0;
};
// How many of `count` things lie on a circle of such pairs, in which none can be first. Linear. Strongly connected
// components (Tarjan, "Depth-first search and linear graph algorithms", 1972) by Boost.Graph.
std::size_t on_circles(std::size_t count, std::span<const MustPrecede> pairs);

// Groups of a gathering that lie on a circle of water and decks; judged by the atoms' borders, and a little stricter
// than kRunsOnto, as seams are still to be led along contours.
std::size_t tangled(const AtomGraph& graph, const Gathering& gathering);

}  // namespace pontata
