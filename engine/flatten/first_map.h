// A first flat map without folds, for lower_strain to start from.
#pragma once

#include <optional>
#include <vector>

#include "engine/flatten/patch.h"
#include "engine/flatten/strain.h"

namespace pontata {

// The chart seen through one affine map, fitted to the triangles' true shapes: never folded, as the chart never is.
std::optional<std::vector<Vec2>> map_by_chart(const Patch& patch, std::span<const RestTriangle> rest);

// Least-squares conformal map at the patch's area (Levy et al., "Least Squares Conformal Maps", 2002); nullopt when it
// folds.
std::optional<std::vector<Vec2>> map_conformal(const Patch& patch, std::span<const RestTriangle> rest);

}  // namespace pontata
