// A rim spanned with triangles, no new points.
#pragma once

#include <functional>
#include <vector>

#include "engine/wall/surface_mesh.h"

namespace pontata {

using Rim = std::vector<std::uint32_t>;

// May these two points of a rim, not neighbours on it, be joined by an edge?
using MayJoin = std::function<bool(std::uint32_t, std::uint32_t)>;

// Triangles inside the rim, each running in the rim's direction along its edges, with the least greatest fold between
// neighbours (the surroundings included), then the least area; a rim of more than 250 points is cut up in its mean
// plane instead. `outward` holds for every rim edge the unit direction of the triangle behind it, seen as the filling
// is (zero where unknown). Empty where no triangulation is allowed, or where a long rim crosses itself in that plane.
// Based on: Barequet and Sharir, "Filling gaps in the boundary of a polyhedron", 1995; Liepa, "Filling holes in
// meshes", 2003, section 3.
std::vector<Triangle> span_rim(const std::vector<Vec3>& points, const Rim& rim, const std::vector<Vec3>& outward,
                               const MayJoin& may_join);

}  // namespace pontata
