// A smooth surface through a noisy or uneven wall: at every node the evenly curved patch (flat, cylinder, sphere or
// saddle) that fits the wall best within a given reach; between nodes the patches are blended.
//
// Based on: Cleveland and Devlin, "Locally Weighted Regression: An Approach to Regression Analysis by Local Fitting",
// 1988 (local quadratic fits with tricube weights), and Cleveland, "Robust Locally Weighted Regression and Smoothing
// Scatterplots", 1979 (bisquare weights, here from four median residuals, so that dents and bumps do not draw the
// surface).
//
// Notation: q from a patch's middle, n its unit normal, y = q.n, x = q - y n, S its curvature (a symmetric tensor of
// the tangent plane, positive where the wall curves toward the painter). On a sphere or cylinder exactly
// y - c y^2/2 = S(x,x)/2 with c = |S x|^2 / S(x,x); so planes, cylinders and spheres are fitted without error up to
// their very border, and neither flattened nor eased.
#pragma once

#include <optional>

#include "engine/base/progress.h"
#include "engine/plaster/surface_nodes.h"

namespace pontata {

struct PatchOptions {
  double reach =
      1;  // m, radius of a patch; less where the wall turns by more than about 45 degrees in it, more at a border
  double spacing = 0.1;  // m, of the nodes
  bool robust = false;   // leave out what stands out
  double floor = 1e-4;   // m, residuals below about this are never called standing out
};

// Offset (m) of every point of the graph from the smooth surface, positive toward the painter. nullopt when cancelled;
// progress is reported between `from` and `to`.
std::optional<std::vector<double>> offsets_from_patches(const PointGraph& graph, const PatchOptions& options,
                                                        Progress* progress, double from, double to);

}  // namespace pontata
