// Loose triangles on their way to a wall: welding and the removal of what carries no surface.
#pragma once

#include <vector>

#include "engine/wall/surface_mesh.h"

namespace pontata {

struct Soup {
  std::vector<Vec3> points;  // m
  std::vector<Triangle> triangles;
  std::vector<double> facing;  // m^2 per triangle: its area, negative where the file says that its back is painted
};

// Joins points nearer than `distance` (m): each point goes to the first earlier kept point within reach, so the result
// depends only on the order in the file. Returns the number of points that were joined to another. O(n) expected.
std::size_t weld(Soup& soup, double distance);

// Drops triangles with a repeated corner or no area; returns their number.
std::size_t drop_degenerate(Soup& soup);

// Of triangles with the same three corners, in any order, keeps the first; returns the number dropped.
std::size_t drop_duplicates(Soup& soup);

// Removes points that no triangle uses and triangles marked in `gone` (may be empty).
void compact(Soup& soup, const std::vector<bool>& gone);

double triangle_area(const std::vector<Vec3>& points, const Triangle& t);  // m^2
double total_area(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles);

}  // namespace pontata
