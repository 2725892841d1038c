// What a laid layout falls short of, measured exactly. Internal to engine/proposal.
#pragma once

#include <compare>
#include <vector>

#include "engine/proposal/proposal.h"

namespace pontata {

struct Shortcomings {
  std::size_t over = 0;     // giornate over the hours, but for those whose zone alone is too much
  std::size_t tangled = 0;  // giornate on a circle of water and decks (tangles.h)
  std::size_t thin = 0;     // giornate with a thin end
  auto operator<=>(const Shortcomings&) const = default;
};

// Of the fresh giornate, `proposal.overfull` and the hours allowed being known; `thin`: how many thin_places there are.
// `hours`: of painting of each, in the order of `fresh`. Cost: measuring the wall.
Shortcomings shortcomings(const ProposalInput& input, const Proposal& proposal, std::size_t thin,
                          std::vector<double>& hours);

// Where fresh giornate have thin ends, by the review's own rule (engine/review/findings.h). Cost: laying each giornata
// flat.
std::vector<Vec2> thin_places(const ProposalInput& input, const Proposal& proposal);

}  // namespace pontata
