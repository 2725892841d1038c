// What a flat map is like: its strains, the lengths it misses, its folds.
#pragma once

#include <span>

#include "engine/flatten/flattening.h"
#include "engine/flatten/strain.h"

namespace pontata {

// Fills every measure of `out` but hold_error_m from its flat map. `rest` are the patch's triangles. Cost: that of
// PaperLines::worst and O(n).
void report_map(const Patch& patch, std::span<const RestTriangle> rest, Flattening& out);

// Greatest |sigma - 1| over the triangles that count (kThinnestStrained).
double greatest_strain(const Patch& patch, std::span<const RestTriangle> rest, const std::vector<Vec2>& flat);

}  // namespace pontata
