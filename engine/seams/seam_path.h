// The stretch of seams that a line drawn from one place of them to another is to take the place of. Internal to
// engine/seams.
#pragma once

#include <vector>

#include "engine/seams/seam_places.h"

namespace pontata {

struct SeamStretch {
  std::vector<HalfEdgeId> half_edges;  // each begins where the one before ends
  LatticePoint first, last;            // on the first and the last of them
};

// Of all ways along seams between the two places, without the wall's border, the one that the line lies nearest to:
// the least integral over the way of the distance to the line (chart metres). Refuses places that no seams join.
Result<SeamStretch> stretch_near(const ChartedWall& wall, const Network& network, const SeamPlace& from,
                                 const SeamPlace& to, const std::vector<LatticePoint>& line);

}  // namespace pontata
