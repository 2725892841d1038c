// Lines where the wall's surface turns sharply: arrises of a groin, ridges of a cloister vault, creases of a scan. A
// seam there hides itself, so a hugging line follows them before the picture's contours.
#pragma once

#include <memory>
#include <vector>

#include "engine/chart/charted_wall.h"

namespace pontata {

struct WallRibs {
  std::vector<std::vector<ChartPoint>> lines;  // open or closed (first point repeated) lines, chart metres
};

// Edges whose two triangles turn by at least `least_deg` between their normals along the edge, joined into lines; lines
// shorter than 50 mm on the surface are left out. O(edges).
std::shared_ptr<const WallRibs> find_ribs(const ChartedWall& wall, double least_deg = 20);

}  // namespace pontata
