// A first way over the surface between two places, good enough to be pulled straight.
#pragma once

#include <optional>
#include <vector>

#include "engine/chart/turning.h"

namespace pontata {

// A line in the chart that may not be crossed: forces the way round the other side of an opening.
struct Barrier {
  ChartPoint from, to;
};

// The sides crossed in order, each of the triangle before, from a's triangle to b's. A* over the mesh points, along
// edges and straight over an edge to the opposite point (12 directions at a usual point, so at most some 4 % too long)
// with the distance through the air as bound (Hart, Nilsson, Raphael, "A Formal Basis for the Heuristic Determination
// of Minimum Cost Paths", 1968). nullopt where the barrier leaves no way.
std::optional<std::vector<SideId>> rough_way(const Chart& chart, const WallPoint& a, const WallPoint& b,
                                             const std::optional<Barrier>& barrier);

}  // namespace pontata
