// Cutting a scan to a box.
#pragma once

#include "engine/wall/scan.h"
#include "engine/wall/scan_soup.h"

namespace pontata {

// What is left of the surface inside the box of the options, cut exactly at its six sides; triangles across a side are
// cut through, and the two that share an edge share the new point on it. The box stands in the scan's own frame, the
// soup in the building's (see ScanOptions). Points within a micrometre of a side count as on it. Returns the area left
// out, m^2. Precondition: options.crop.
double crop(Soup& soup, const ScanOptions& options);

// The corners of the soup's own box in the frame in which a box to cut it with is given. Precondition: it has points.
ScanOptions::Box reach_of(const Soup& soup, const Placement3& placement);

}  // namespace pontata
