// One entity of a DXF as a line on the chart. Internal to engine/document/seam_files.
#pragma once

#include <vector>

#include "engine/document/seam_files/curves.h"
#include "engine/document/seam_files/drawing.h"
#include "engine/document/seam_files/dxf_groups.h"

namespace pontata {

// The line of an ARC, CIRCLE, ELLIPSE, LINE, LWPOLYLINE or SPLINE, laid by `map` (a scale and a shift). Entities drawn
// on the back of the plane (extrusion 0, 0, -1) are turned over. Refuses broken numbers, another extrusion, and splines
// without control points.
Result<DrawnLine> dxf_line(const DxfRecord& entity, const Affine& map, double tolerance);

// A POLYLINE and its VERTEX records; no points where it is a mesh.
Result<DrawnLine> dxf_polyline(const DxfRecord& entity, const std::vector<DxfRecord>& vertices, const Affine& map,
                               double tolerance);

}  // namespace pontata
