// Flat faces of more than three corners, split into triangles.
#pragma once

#include <span>
#include <vector>

#include "engine/wall/surface_mesh.h"

namespace pontata {

// Appends corners.size() - 2 triangles with the face's own winding, hollow corners respected: ears are cut off in the
// face's mean plane (Newell's normal). A face that crosses itself is fanned out. Fewer than 3 corners: nothing.
void split_polygon(const std::vector<Vec3>& points, std::span<const std::uint32_t> corners, std::vector<Triangle>& out);

}  // namespace pontata
