// The symmetric Dirichlet energy of one triangle: finite only while the triangle is not folded, least where the map is
// an isometry.
//
// Based on: Smith and Schaefer, "Bijective Parameterization with Free Boundaries", 2015 (the energy); Smith, de Goes,
// Kim, "Analytic Eigensystems for Isotropic Distortion Energies", 2019 (its projected Hessian).
//
// Notation: J the 2x2 matrix that maps the triangle laid flat to the chart, s1 >= s2 its singular values,
// E = area (s1^2 + s2^2 + 1/s1^2 + 1/s2^2), at least 4 area. J = sum of x_i g_i^T with x_i the chart places of the
// corners and g_i the gradients of the barycentric weights in the flat triangle.
#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

#include "engine/wall/surface_mesh.h"

namespace pontata {

// A surface triangle laid flat: what the chart should look like there.
struct FlatTriangle {
  double area = 0;                          // m^2
  std::array<Eigen::Vector2d, 3> gradient;  // of each corner's barycentric weight, 1/m
};

// A triangle thinner than this share of its longest edge is taken as that thick, so that the chart gives it room.
inline constexpr double kLeastThickness = 0.01;

FlatTriangle lay_flat(const Vec3& a, const Vec3& b, const Vec3& c, double least_thickness = kLeastThickness);
std::vector<FlatTriangle> lay_flat(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles);

Eigen::Matrix2d jacobian(const FlatTriangle& flat, const Vec2& a, const Vec2& b, const Vec2& c);

// The shape between the one in the chart and the surface's own from which the chart's differs by no more than
// energy / area = 4 kMostStrain; the own one where it is near enough.
inline constexpr double kMostStrain = 4.5;
FlatTriangle part_way(const FlatTriangle& own, const Eigen::Matrix2d& j);

// Infinite where the triangle is folded or has no area.
double energy(const FlatTriangle& flat, const Eigen::Matrix2d& j);

// First derivative by J, and the four eigenpairs of the second one made positive; times the area.
struct EnergyTerms {
  Eigen::Matrix2d slope;
  std::array<double, 4> curvature;
  std::array<Eigen::Matrix2d, 4> mode;
};
EnergyTerms energy_terms(const FlatTriangle& flat, const Eigen::Matrix2d& j);

}  // namespace pontata
