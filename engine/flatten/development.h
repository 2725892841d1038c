// Stretches of rim developed into the plane: a curve with the surface's own arc length and geodesic curvature.
//
// By the fundamental theorem of plane curves (do Carmo, "Differential Geometry of Curves and Surfaces", 1976, section
// 1-5) length and turning make it one curve, whichever giornata it is printed for. It is taken from the wall alone: the
// length of each step along the surface, and at each point the signed angle of the two chords seen along the wall's
// normal there. For steps of length h the turning is right to O(h^3).
#pragma once

#include <span>
#include <vector>

#include "engine/flatten/flattening.h"

namespace pontata {

// `points` and unit `normals` of n places in order, and `lengths` (m) of the n - 1 steps between them. Gives n places
// in the plane (m), in the order given; walked the other way the same bits, in the other order.
std::vector<Vec2> develop(std::span<const Vec3> points, std::span<const Vec3> normals, std::span<const double> lengths);

// The rim of a patch as runs to be held to their development.
struct RimRuns {
  std::vector<HeldRun> runs;
  std::vector<std::uint32_t> open;  // rims without any break whose development does not close: not held
};

// `breaks`: per rim and position, whether the rim may turn freely there. Slits break it as well, and are no part of any
// run. A rim without breaks is held whole where its development closes to 0.5 mm. Along an arris the wall turns under
// the seam, and either side has a turning of its own: the one of the patch's side is taken.
RimRuns developed_rims(const ChartedWall& wall, const Patch& patch, const std::vector<std::vector<bool>>& breaks);

}  // namespace pontata
