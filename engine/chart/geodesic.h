// The tape: the shortest way over the wall's surface between two places.
#pragma once

#include <vector>

#include "engine/chart/charted_wall.h"

namespace pontata {

struct TapeLine {
  double over_m = 0;      // length of the shortest way over the surface, by the fair metric
  double straight_m = 0;  // through the air
  std::vector<Vec3> way;  // places in space along it, ends included
  std::vector<std::vector<ChartPoint>> chart;  // the same in the chart, a new piece after each cut
};

// Shortest way from a to b (chart places in the wall); openings and the wall's ends are gone round, cuts are crossed.
// Locally shortest always: a rough way found by A* over the mesh points (engine/chart/rough_way.h) is pulled straight
// over the triangles (engine/chart/straight_way.h), so that it turns nowhere but round an end of the wall; where it
// bends round an opening, the way round the other side is tried too and the shorter one taken, for up to eight
// openings. Of ways that are no bends apart, such as both ways round a drum, the shorter rough one is followed.
// Relative error on an analytic shape that of its triangles, below 1e-4 at the default tolerance. Refuses places
// outside the wall. Cost: the part of the wall nearer than the way is long, and up to nine times that round openings.
Result<TapeLine> stretch_tape(const ChartedWall& wall, ChartPoint a, ChartPoint b);

}  // namespace pontata
