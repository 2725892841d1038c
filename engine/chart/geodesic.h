// The tape: the shortest way over the wall's surface between two places.
#pragma once

#include <vector>

#include "engine/chart/charted_wall.h"

namespace pontata {

struct TapeLine {
  double over_m = 0;                           // length of the shortest way over the surface, by the fair metric
  double straight_m = 0;                       // through the air
  std::vector<Vec3> way;                       // places in space along it, ends included
  std::vector<std::vector<ChartPoint>> chart;  // the same in the chart, a new piece after each cut
};

// Shortest way from a to b (chart places in the wall); openings and the wall's ends are gone round, cuts are crossed.
// Locally shortest: a path along edges found by Dijkstra over the surface and then straightened until it turns nowhere
// (method named in the source). Refuses places outside the wall. Cost about that of one Dijkstra over the triangles.
Result<TapeLine> stretch_tape(const ChartedWall& wall, ChartPoint a, ChartPoint b);

}  // namespace pontata
