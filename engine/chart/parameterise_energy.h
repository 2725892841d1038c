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
#include <limits>
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

inline Eigen::Matrix2d jacobian(const FlatTriangle& flat, const Vec2& a, const Vec2& b, const Vec2& c) {
  const Vec2 ab = b - a, ac = c - a;
  const auto &g1 = flat.gradient[1], &g2 = flat.gradient[2];
  Eigen::Matrix2d j;
  j(0, 0) = ab.x * g1.x() + ac.x * g2.x(), j(0, 1) = ab.x * g1.y() + ac.x * g2.y();
  j(1, 0) = ab.y * g1.x() + ac.y * g2.x(), j(1, 1) = ab.y * g1.y() + ac.y * g2.y();
  return j;
}

// Whether both singular values lie within 1 / most and most.
bool scales_within(const Eigen::Matrix2d& j, double most);

// The shape between the one in the chart and the surface's own from which the chart's differs by no more than
// energy / area = 4 kMostStrain; the own one where it is near enough.
inline constexpr double kMostStrain = 4.5;
FlatTriangle part_way(const FlatTriangle& own, const Eigen::Matrix2d& j);

// Infinite where the triangle is folded or has no area.
inline double energy(const FlatTriangle& flat, const Eigen::Matrix2d& j) {
  const double det = j(0, 0) * j(1, 1) - j(0, 1) * j(1, 0);
  if (!(det > 0)) return std::numeric_limits<double>::infinity();
  return flat.area * (j(0, 0) * j(0, 0) + j(0, 1) * j(0, 1) + j(1, 0) * j(1, 0) + j(1, 1) * j(1, 1)) *
         (1 + 1 / (det * det));
}

// First derivative by J, and the four eigenpairs of the second one made positive; times the area.
struct EnergyTerms {
  Eigen::Matrix2d slope;
  std::array<double, 4> curvature;
  std::array<Eigen::Matrix2d, 4> mode;
};
EnergyTerms energy_terms(const FlatTriangle& flat, const Eigen::Matrix2d& j);

// The energy of one triangle as its corner 0 moves by x, the others held: |J|^2 is quadratic and det J linear in x.
struct PointEnergy {
  double area, squares, det;  // of the flat triangle; |J|^2 and det J at x = 0
  Vec2 along, shear;          // gradients of |J|^2 and of det J
  double width;               // |J|^2 grows by width |x|^2 beyond its gradient
};
inline PointEnergy point_energy(const FlatTriangle& flat, const Eigen::Matrix2d& j) {
  const auto& g = flat.gradient[0];
  return {flat.area,
          j(0, 0) * j(0, 0) + j(0, 1) * j(0, 1) + j(1, 0) * j(1, 0) + j(1, 1) * j(1, 1),
          j(0, 0) * j(1, 1) - j(0, 1) * j(1, 0),
          2.0 * Vec2{j(0, 0) * g.x() + j(0, 1) * g.y(), j(1, 0) * g.x() + j(1, 1) * g.y()},
          {j(1, 1) * g.x() - j(1, 0) * g.y(), j(0, 0) * g.y() - j(0, 1) * g.x()},
          g.x() * g.x() + g.y() * g.y()};
}
inline double energy_at(const PointEnergy& e, const Vec2& x) {
  const double det = e.det + glm::dot(e.shear, x);
  if (!(det > 0)) return std::numeric_limits<double>::infinity();
  return e.area * (e.squares + glm::dot(e.along, x) + e.width * glm::dot(x, x)) * (1 + 1 / (det * det));
}

// Where Newton's method would send the point: value, slope and second derivative summed over the triangles round it.
class PointNewton {
 public:
  void add(const PointEnergy& e) {
    const double i = 1 / e.det, i2 = i * i, growth = 1 + i2;
    const double c1 = -2 * e.area * i2 * i, c2 = 6 * e.area * e.squares * i2 * i2, c0 = 2 * e.area * growth * e.width;
    energy_ += e.area * e.squares * growth;
    slope_ += e.area * growth * e.along + (c1 * e.squares) * e.shear;
    xx_ += c0 + e.shear.x * (2 * c1 * e.along.x + c2 * e.shear.x);
    yy_ += c0 + e.shear.y * (2 * c1 * e.along.y + c2 * e.shear.y);
    xy_ += c1 * (e.along.x * e.shear.y + e.along.y * e.shear.x) + c2 * e.shear.x * e.shear.y;
  }
  double energy() const { return energy_; }
  const Vec2& slope() const { return slope_; }
  // The step, downhill also where the energy is not convex; zero where there is none.
  Vec2 step() const;

 private:
  double energy_ = 0;
  Vec2 slope_{0, 0};
  double xx_ = 0, xy_ = 0, yy_ = 0;
};

}  // namespace pontata
