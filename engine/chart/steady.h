// Directions along which a noisy scan's triangles are brought onto its fair surface.
#pragma once

#include <vector>

#include "engine/wall/surface_mesh.h"

namespace pontata {

// One unit direction per triangle, toward the painter: the mean of the triangles' area vectors over some 100 mm, from
// sums on a grid, so steady that the scan's noise is not in it. Where the surface bends away from it by more than 45
// degrees (an edge, a thin fin) it is the triangle's own mean corner normal. O(triangles).
std::vector<Vec3> steady_directions(const SurfaceMesh& mesh);

}  // namespace pontata
