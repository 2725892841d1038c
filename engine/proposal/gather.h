// Atoms gathered into giornate: the part of a proposal that can be held against any graph partitioner.
//
// Based on: Kernighan and Lin, "An efficient heuristic procedure for partitioning graphs", 1970 (pieces change sides
// where that lowers the cost of the cut); Kirkpatrick, Gelatt and Vecchi, "Optimization by simulated annealing", 1983
// (at first also where it does not);
// Karypis and Kumar, "A fast and high quality multilevel scheme for partitioning irregular graphs", 1998 (first on
// atoms joined to larger ones); Sanders and Schulz, "Distributed evolutionary graph partitioning", 2012 (of two
// gatherings a better one is made: atoms are joined anew, but for what either of them parts).
#pragma once

#include "engine/proposal/atoms.h"

namespace pontata {

struct GatherOptions {
  double hours = 7;  // greatest sum of hours of a group
  std::uint32_t seed = 1;
  int rounds = 60;                     // of improvement, each trying every atom once or so
  int tries = 6;                       // from other beginnings; the best counts: cost times groups, tangles and days
  int generations = 12;                // in which the best are combined
  std::vector<std::uint32_t> start{};  // a group for each atom to begin with; empty: found here
};

struct Gathering {
  std::vector<std::uint32_t> group;  // per atom, from 0
  std::vector<int> deck;             // per group
  double cost = 0;                   // sum of the cost of borders between groups
};

// Every group connected and within the hours (an atom that alone needs more is a group of its own). Groups take atoms
// of one deck only, by Atom::deck_low and deck_high. The same for the same input. Expected O(tries x rounds x borders).
Gathering gather(const AtomGraph& graph, const GatherOptions& options, Progress* progress = nullptr);

}  // namespace pontata
