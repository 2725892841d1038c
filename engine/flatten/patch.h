// One face of the network as its own small surface, ready to be laid flat.
#pragma once

#include <span>
#include <vector>

#include "engine/base/progress.h"
#include "engine/base/result.h"
#include "engine/chart/charted_wall.h"

namespace pontata {

struct Patch {
  std::vector<Vec3> points;               // m, on the wall
  std::vector<ChartPoint> places;         // their chart places
  std::vector<Triangle> triangles;        // counter-clockwise seen by the painter
  std::vector<std::vector<std::uint32_t>> rims;  // border loops as points: outer counter-clockwise first, holes clockwise
  std::vector<std::vector<std::uint32_t>> corners; // per rim: the position in that rim of each given ring point, in order
};

struct PatchOptions {
  double spacing_m = 0.03;                // wanted edge length on the surface
  std::size_t limit = 200000;             // points; the spacing grows until the patch fits
};

// A conforming triangulation of the region inside the rings (outer counter-clockwise, holes clockwise): every ring point
// is a point of the patch, rims are subdivided to the spacing, inside points lie on the true surface.
Result<Patch> make_patch(const ChartedWall& wall, std::span<const Ring> rings, const PatchOptions& options = {},
                         Progress* progress = nullptr);

}  // namespace pontata
