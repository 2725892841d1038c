// Regions on the two sides of a cut made into one patch.
#pragma once

#include <vector>

#include "engine/flatten/cut_marks.h"
#include "engine/flatten/patch.h"

namespace pontata {

// One patch of one for each region of `marks.rings`; `regions` says which rings each was made of, in order. Points that
// marks pair become one, and the rim between them goes. Where that would close the patch all round the wall it is left
// open, so that it can be laid flat.
Patch sew(const Chart& chart, const std::vector<Patch>& parts, const std::vector<std::vector<std::size_t>>& regions,
          const CutMarks& marks);

// The regions that hang together across cuts, directly or through others, as lists of indices into `regions`.
std::vector<std::vector<std::size_t>> sewn_groups(const std::vector<std::vector<std::size_t>>& regions,
                                                  const CutMarks& marks);

}  // namespace pontata
