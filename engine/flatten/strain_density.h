// What strain costs per area, as a function of the two principal stretches, and its derivatives.
//
// Free paper: the symmetric Dirichlet energy (s - 1/s)^2 of each stretch s. Paper with a limit t to its strain: the
// logarithmic barrier -log(t^2 - (s - 1)^2), without end towards the limit, which is an unknown itself.
#pragma once

#include <array>

#include "engine/flatten/strain.h"

namespace pontata {

// Of one principal stretch.
struct Density {
  double value = 0, slope = 0, curvature = 0;
  double by_limit = 0, by_limit_twice = 0, mixed = 0;  // derivatives by the limit, by it twice, by it and the stretch
};
Density free_density(double stretch);
// Times `scale`; value infinite where |stretch - 1| reaches the limit.
Density limited_density(double stretch, double limit, double scale);

// Gradient (by x and y of the three corners, interleaved) and Hessian (lower triangle, row by row: 21 numbers) of the
// density over a triangle, the Hessian's negative eigenvalues set to zero. Eigenvectors in closed form: Smith, de Goes,
// Kim, "Analytic Eigensystems for Isotropic Distortion Energies", 2019, section 4.
struct TriangleTerm {
  std::array<double, 6> slope{}, mixed{};  // mixed: the slope's change with the limit
  std::array<double, 21> curvature{};
};
TriangleTerm triangle_term(const RestTriangle& rest, const Gradient& g, const Density& greater, const Density& lesser,
                           Stretches s);

}  // namespace pontata
