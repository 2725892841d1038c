// Lowers the strain of a fold-free flat map.
//
// Energy: symmetric Dirichlet, sum of area * weight * ((s1 - 1/s1)^2 + (s2 - 1/s2)^2) over the singular values (Smith
// and Schaefer, "Bijective Parameterization with Free Boundaries", 2015; less its constant). Minimised by L-BFGS whose
// first matrix is the triangles' Laplacian, factored once (Liu, Bouaziz, Kavan, "Quasi-Newton Methods for Real-Time
// Simulation of Hyperelastic Materials", 2017); every step stays short of the first triangle that would turn over
// (Smith and Schaefer, section 3.3).
#pragma once

#include <span>
#include <vector>

#include "engine/base/progress.h"
#include "engine/flatten/strain.h"

namespace pontata {

struct IsometryProblem {
  std::span<const Triangle> triangles;
  std::span<const RestTriangle> rest;
  std::vector<double> weights;  // one per triangle
};

struct IsometryOptions {
  int iterations = 60;
  double enough = 1e-14;  // mean of the energy density at which nothing is left to gain
};

// Improves `flat` in place; every triangle must be right side up. Returns the energy reached.
double lower_strain(const IsometryProblem& problem, std::vector<Vec2>& flat, const IsometryOptions& options,
                    const Progress* progress);

}  // namespace pontata
