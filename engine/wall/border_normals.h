// Smoothed normals near a scan's border.
#pragma once

#include <vector>

#include "engine/wall/surface_mesh.h"

namespace pontata {

// Diffusion turns nothing over a border, so normals smoothed over `wavelength` (m) lag behind within a reach of
// wavelength / 2 pi or two of it: on a vault of radius R by up to reach / R. There they are taken anew, as the linear
// fit to the smoothed normals farther inside, within 1.3 wavelengths, at the point: local linear regression, whose bias
// at an edge is of the same order as inside (Fan and Gijbels, "Local Polynomial Modelling and Its Applications", 1996,
// section 3.2). A fit that turns a normal by more than 6 degrees comes from a feature of the surface and is not used;
// nor is one with too few places to rest on. `normals`: unit, one per point, changed in place. O(points near the
// border).
void straighten_border_normals(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles,
                               double wavelength, std::vector<Vec3>& normals);

}  // namespace pontata
