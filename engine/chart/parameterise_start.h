// A first flat map of a sheet that cannot fold: the outer rim on a circle, every other point at the mean of its
// neighbours.
//
// Based on: Tutte, "How to Draw a Graph", 1963; Floater, "Parametrization and smooth approximation of surface
// triangulations", 1997.
#pragma once

#include <optional>
#include <string>

#include "engine/base/result.h"
#include "engine/chart/parameterise_border.h"
#include "engine/wall/surface_mesh.h"

namespace pontata {

// Rims of a sheet, the longest first; a Problem where the triangles are no sheet, where it is closed, in several parts,
// or has handles, with the place in plain words.
Result<Loops> sheet_rims(const SurfaceMesh& mesh, const std::string& name);

// Places for all points that triangles use (others stay as they are), the disc's area that of the surface. The
// triangles' only rim is `outer`. False where numbers are too coarse for it (a triangle came out without area).
bool convex_start(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles,
                  const std::vector<std::uint32_t>& outer, std::vector<Vec2>& places);

}  // namespace pontata
