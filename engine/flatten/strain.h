// Strain of a flat map of triangles whose true shapes are known by their side lengths.
#pragma once

#include <array>
#include <vector>

#include "engine/base/vec.h"
#include "engine/wall/surface_mesh.h"

namespace pontata {

// Triangles at rest: corner 0 at the origin, corner 1 on +x. `inverse` maps the two edge vectors of the flat triangle
// (columns, from corner 0) to the gradient of the map: J = [q1 - q0, q2 - q0] * inverse, inverse = [[a, b], [0, d]].
struct RestTriangle {
  double a = 0, b = 0, d = 0;
  double area = 0;    // m^2
  double height = 0;  // m, least altitude
};
RestTriangle rest_triangle(const std::array<double, 3>& sides);

// Gradient of the map, row-major [[xx, xy], [yx, yy]].
struct Gradient {
  double xx = 1, xy = 0, yx = 0, yy = 1;
  double det() const { return xx * yy - xy * yx; }
};
inline Gradient gradient(const RestTriangle& r, Vec2 q0, Vec2 q1, Vec2 q2) {
  const Vec2 e1 = q1 - q0, e2 = q2 - q0;
  return {e1.x * r.a, e1.x * r.b + e2.x * r.d, e1.y * r.a, e1.y * r.b + e2.y * r.d};
}

// Singular values, the lesser one signed by the determinant.
struct Stretches {
  double greater = 1, lesser = 1;
};
Stretches stretches(const Gradient& g);

// Largest step along which the triangle of edge vectors a, b (from corner 0, counter-clockwise) still has area, when
// the edges move by da, db per step; infinite when it never loses it.
double step_to_flip(Vec2 a, Vec2 b, Vec2 da, Vec2 db);

}  // namespace pontata
