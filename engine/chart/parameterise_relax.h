// Lowers the isometric energy of a whole flat sheet without folding it.
#pragma once

#include "engine/base/progress.h"
#include "engine/chart/parameterise_border.h"
#include "engine/chart/parameterise_energy.h"

namespace pontata {

// Every place moves at once: Newton steps on the projected Hessian, each shortened before the first triangle would fold
// and until the rims run clear. Places change in place; only those that triangles use are touched. Stops when a step
// gains less than `enough` of the energy.
void relax_globally(const std::vector<Triangle>& triangles, const std::vector<FlatTriangle>& flat, const Loops& rims,
                    int steps, double enough, std::vector<Vec2>& places, Progress* progress = nullptr);

// One point at a time, in order, `sweeps` times over: takes out what is wrong on the scale of a few triangles.
void relax_locally(const std::vector<Triangle>& triangles, const std::vector<FlatTriangle>& flat, const Loops& rims,
                   int sweeps, std::vector<Vec2>& places, Progress* progress = nullptr);

// The corners round one point: the triangles of its fan with the point as corner 0.
struct FanTriangle {
  FlatTriangle flat;  // gradients in the order point, b, c
  Vec2 b, c;
};
// One guarded Newton step of the point at `place`; returns the new place, which folds nothing.
Vec2 relaxed_place(const std::vector<FanTriangle>& fan, const Vec2& place);

}  // namespace pontata
