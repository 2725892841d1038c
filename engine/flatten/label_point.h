// A place well inside a patch and what is up there.
#pragma once

#include "engine/flatten/patch.h"

namespace pontata {

// Patch point farthest from the rim along the patch's edges; lowest index on ties.
std::uint32_t label_point(const Patch& patch);

// Unit direction on the flat map that is up on the wall round a point: towards greater height; where the wall is nearly
// level there (steeper than 1 in 5 it counts as level no more), towards greater v of the chart.
struct UpDirection {
  Vec2 flat{0, 1};
  bool by_height = true;
};
UpDirection up_at(const Patch& patch, const std::vector<Vec2>& flat, std::uint32_t point);

}  // namespace pontata
