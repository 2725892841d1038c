// Plain vectors in double precision, metres unless a header says otherwise.
#pragma once

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace pontata {

using Vec2 = glm::dvec2;
using Vec3 = glm::dvec3;

// z component of the cross product of two plane vectors; twice the signed area of their triangle.
inline double cross2(const Vec2& a, const Vec2& b) { return a.x * b.y - a.y * b.x; }

}  // namespace pontata
