// The stretch of seams that a line drawn from one place of them to another is to take the place of. Internal to
// engine/seams.
#pragma once

#include <vector>

#include "engine/seams/seam_places.h"
#include "engine/seams/seam_rails.h"

namespace pontata {

struct SeamStretch {
  std::vector<HalfEdgeId> half_edges;  // each begins where the one before ends
  LatticePoint first, last;            // on the first and the last of them
  double cost = 0;                     // integral of the distance to the line
};

// Of all ways along seams between the two places, not touching the wall's border between, the one that the line lies
// nearest to: the least integral over the way of the distance to the line (chart metres). nullopt where no seams join
// them.
std::optional<SeamStretch> stretch_near(const Network& network, const SeamPlace& from, const SeamPlace& to,
                                        const std::vector<LatticePoint>& line);

// A line as it is to be laid: a part on each side of every cut of the chart that it goes over, with the stretch whose
// place it takes. Where a part begins or ends at the wall's border, the end of the seam that lay there slides to it.
struct LinePart {
  std::vector<LatticePoint> line;
  SeamStretch stretch;
  std::optional<VertexId> head, tail;  // slide along the border to the line's ends
};

// The line brought onto the wall, its ends onto seams or the border. Refuses lines that cross themselves, begin or end
// on neither, or cross a cut where no seam does.
Result<std::vector<LinePart>> line_parts(const ChartedWall& wall, const Network& network, const Rails& rails,
                                         const std::vector<ChartPoint>& line);

}  // namespace pontata
