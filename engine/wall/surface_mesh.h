// The painted surface as triangles. Immutable once built; shared by every document that shows this wall.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "engine/base/vec.h"

namespace pontata {

using Triangle = std::array<std::uint32_t, 3>;

struct SurfaceMesh {
  std::vector<Vec3> points;              // m, in the building's frame: Z up, right-handed
  std::vector<Vec3> normals;             // unit, toward the painter
  std::vector<Triangle> triangles;       // indices into points, counter-clockwise seen by the painter
  std::vector<Triangle> corner_normals;  // indices into normals, one per corner; an arris has two normals at one point
};

// A point of the surface: a triangle and barycentric weights (sum 1) of its three corners.
struct WallPoint {
  std::uint32_t triangle = 0;
  Vec3 weights{1, 0, 0};
};

Vec3 position(const SurfaceMesh& mesh, const WallPoint& p);
Vec3 normal(const SurfaceMesh& mesh, const WallPoint& p);  // unit, interpolated

}  // namespace pontata
