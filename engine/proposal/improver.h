// Moves of single atoms from group to group, warm at first and calm at the end. Internal to engine/proposal.
//
// Based on: Kernighan and Lin, "An efficient heuristic procedure for partitioning graphs", 1970 (pieces change sides
// where that lowers the cost of the cut); Kirkpatrick, Gelatt and Vecchi, "Optimization by simulated annealing", 1983
// (at first also where it does not).
#pragma once

#include <random>

#include "engine/proposal/grouping.h"

namespace pontata {

class Improver {
 public:
  // All three are kept and must outlive it; progress may be null.
  Improver(Grouping& grouping, const GatherOptions& options, Progress* progress);

  // Rounds of moves, each trying as many atoms as there are, warm at first (`heat` times the mean cost of a border).
  void run(int rounds, double heat);
  // Every move that gains, until there is none.
  void settle();

 private:
  std::uint32_t any_atom() { return static_cast<std::uint32_t>(chance_() % g_.atoms()); }
  double penalty(double load) const;
  bool try_move(std::uint32_t a);

  Grouping& g_;
  const GatherOptions& options_;
  Progress* progress_;
  std::mt19937 chance_;
  double mean_cost_ = 1, warmth_ = 0, over_ = 1, pass_ = 0;
};

}  // namespace pontata
