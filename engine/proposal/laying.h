// From atoms to a layout: gathered, led along contours, laid into the network. Internal to engine/proposal.
#pragma once

#include "engine/proposal/atoms.h"
#include "engine/proposal/gather.h"
#include "engine/proposal/proposal.h"

namespace pontata {

struct PreparedWall {
  Network network;  // with the giornate alone that stay
  ProposalGround ground;
  Atoms atoms;
  double hours = 0;  // that a giornata may take
};

struct LaidLayout {
  Proposal proposal;
  std::size_t thin = 0;              // thin ends that are left
  std::vector<std::uint32_t> group;  // of each atom
  std::vector<std::uint32_t> order;  // the group of each of proposal.fresh
};

// `graph` (the wall's own, or with hours put right) gathered to options.hours and laid: what the proposal holds of
// hours allowed, of overfull zones and remarks is left open. Cancelled: Problem "stopped before a layout was found".
Result<LaidLayout> lay_out(const ProposalInput& input, double strict, const PreparedWall& wall, const AtomGraph& graph,
                           const GatherOptions& options, Progress* progress = nullptr);

inline Problem stopped_laying() { return {"stopped before a layout was found", "", ""}; }

}  // namespace pontata
