// How far a drag of a seam reaches along the seams. Internal to engine/seams.
#pragma once

#include <map>
#include <set>

#include "engine/seams/seam_places.h"
#include "engine/seams/seam_rails.h"

namespace pontata {

struct SeamSpread {
  struct Reached {
    double away = 0;  // surface metres along the seams from where the drag began, below the reach
    Vec2 by{0, 0};    // the drag as the chart has it here: another one beyond a cut
  };
  std::map<VertexId, Reached> reached;
  std::set<SeamId> touched;  // seams with a place within reach
};

// From a place of a seam along all seams that the rails leave free, over junctions and over cuts of the chart.
// O(k log k) for k seams within reach.
SeamSpread spread_along(const ChartedWall& wall, const Network& network, const Rails& rails, const SeamPlace& start,
                        Vec2 by, double reach_m);

// The share of the drag that a place follows by, `away` m along the seams: cos^2, from 1 to 0 at the reach.
double share_at(double away_m, double reach_m);

}  // namespace pontata
