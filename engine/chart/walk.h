// The way over the surface that lies under a straight chart segment, triangle by triangle.
#pragma once

#include <vector>

#include "engine/chart/chart.h"

namespace pontata {

// A straight piece inside one triangle, in barycentric weights of its corners.
struct Stretch {
  std::uint32_t triangle = 0;
  Vec3 from, to;
};

// Pieces from a to b in order, each starting where the one before ends. Where the segment leaves the wall (a seam along
// the border, rounded to the lattice), the way follows the border instead, round the side that leaves the wall out; an
// end outside the wall is taken to the nearest place of the border. a == b gives nothing.
std::vector<Stretch> walk(const Chart& chart, LatticePoint a, LatticePoint b);

}  // namespace pontata
