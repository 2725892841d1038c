// A point of the exact surface of a shape, not of its triangles.
#pragma once

#include "engine/base/vec.h"
#include "engine/wall/shapes.h"

namespace pontata {

struct ShapePoint {
  Vec3 place;   // in the wall's own frame, m
  Vec3 normal;  // unit, toward the painter
};

// At a chart place (m, as ShapeMesh::address). On an arris or ridge the normal is that of either web. Places outside
// the wall give points of the surface drawn on beyond its edge where it has one, of the edge where it has none.
// Precondition: validate(spec) has no objection.
ShapePoint shape_point(const ShapeSpec& spec, const Vec2& address);

}  // namespace pontata
