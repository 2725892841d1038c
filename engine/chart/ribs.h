// Lines where the wall's surface turns sharply: arrises of a groin, ridges of a cloister vault, creases of a scan. A
// seam there hides itself, so a hugging line follows them before the picture's contours.
#pragma once

#include <memory>
#include <vector>

#include "engine/chart/charted_wall.h"

namespace pontata {

struct WallRibs {
  std::vector<std::vector<ChartPoint>> lines;  // open or closed (first point repeated) lines, chart metres; lines meet
                                               // in common end points
};

// Edges whose two triangles turn by at least `least_deg` between their normals along the edge, and those that go on
// from them down to half of it, joined into lines. What hangs together over less than 50 mm of surface is left out.
// Across a cut the line is told on both sides. Where the wall has arrises of its own (two normals at one point) these
// are the edges; elsewhere, as on a scan, the triangles' normals are freed of noise first (rib_normals.h), and the
// lines, which run from edge to edge, are smoothed along themselves. O(triangles), on a noisy scan some 20 times over:
// about 1 s a million.
std::shared_ptr<const WallRibs> find_ribs(const ChartedWall& wall, double least_deg = 20);

}  // namespace pontata
