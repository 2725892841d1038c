// The shape of a filling: a thin plate that goes on with its surroundings.
#pragma once

#include <vector>

#include "engine/wall/surface_mesh.h"

namespace pontata {

// Moves the points from `first_new` on, which only `filling` uses, along the filling's mean direction: the squares of
// the surface's mean bending are summed over new points and rim, each with its ring of triangles of both, and made
// least (cotangent weights in the plane square to that direction). Flat surroundings give a flat filling.
void settle_plate(std::vector<Vec3>& points, const std::vector<Triangle>& surroundings,
                  const std::vector<Triangle>& filling, std::size_t first_new);

}  // namespace pontata
