// The cells of each giornata before its seams are drawn: thin ends given away, every one in one piece.
#pragma once

#include <vector>

#include "engine/proposal/atoms.h"

namespace pontata {

// Groups of cells, kNoAtom where the ground is not free.
struct CellGroups {
  std::vector<std::uint32_t> of_cell;
  std::vector<int> deck;      // per group
  std::vector<double> hours;  // per group
};

// What a disc `width_m` wide does not reach inside a group goes to the group whose disc is nearest, as long as its
// hours allow; keep-whole zones stay with theirs. Pieces that come off a group go to a neighbour with room, or become
// groups of their own. O(cells log cells).
void tidy_groups(const ProposalGround& ground, double width_m, double hours, CellGroups& groups);

}  // namespace pontata
