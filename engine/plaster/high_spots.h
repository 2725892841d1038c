// Places of a wall that stand too high for the coat to have its least thickness over them.
#pragma once

#include "engine/plaster/levelling.h"
#include "engine/plaster/point_graph.h"

namespace pontata {

// depth (m) by slot of the graph, negative where the wall stands out of the fair surface. Connected places where it is
// more than kHighSpotFrom under `least`, of 1 cm2 or more, the highest first.
std::vector<HighSpot> find_high_spots(const ChartedWall& wall, const PointGraph& graph,
                                      const std::vector<double>& depth, double least);

// Share of a triangle in which a value that is linear in it, given at its corners, is below the limit.
double share_below(const Vec3& at_corners, double limit);

}  // namespace pontata
