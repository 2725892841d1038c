// Small holes of a scan closed so that the filling goes on where the surroundings leave off.
#pragma once

#include <vector>

#include "engine/wall/scan_soup.h"

namespace pontata {

// Fills the holes with these rims (border loops of the sheet, in the direction of its triangles' edges) and leaves a
// sheet. Each rim is triangulated with the least fold, then the least area, refined to the length of the edges round
// it, and its new points are moved along the filling's mean direction to the thin plate that goes on with the slope of
// the surroundings. Based on: Liepa, "Filling holes in meshes", 2003. Which rims were filled: one that cannot be
// without a second edge between two of the sheet's points, or with less than three points, stays open.
std::vector<bool> fill_holes(Soup& sheet, const std::vector<std::vector<std::uint32_t>>& rims);

}  // namespace pontata
