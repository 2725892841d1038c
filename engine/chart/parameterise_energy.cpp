#include "engine/chart/parameterise_energy.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pontata {

namespace {

// J = s1 u1 v1^T + s2 u2 v2^T with U and V rotations.
struct Singular {
  double s1, s2;
  Eigen::Vector2d u1, u2, v1, v2;
};

// From the parts of J that turn and that mirror.
Singular singular(const Eigen::Matrix2d& j) {
  const double e = 0.5 * (j(0, 0) + j(1, 1)), f = 0.5 * (j(0, 0) - j(1, 1));
  const double g = 0.5 * (j(1, 0) + j(0, 1)), h = 0.5 * (j(1, 0) - j(0, 1));
  const double q = std::hypot(e, h), r = std::hypot(f, g);
  const double det = j(0, 0) * j(1, 1) - j(0, 1) * j(1, 0);
  const double turn = std::atan2(h, e), mirror = std::atan2(g, f);  // u - v and u + v for J = R(u) diag(s1, s2) R(v)^T
  const double u = 0.5 * (mirror + turn), v = 0.5 * (mirror - turn);
  const Eigen::Vector2d u1(std::cos(u), std::sin(u)), v1(std::cos(v), std::sin(v));
  return {q + r, det / (q + r), u1, {-u1.y(), u1.x()}, v1, {-v1.y(), v1.x()}};  // det / s1: q - r without cancellation
}

}  // namespace

FlatTriangle lay_flat(const Vec3& a, const Vec3& b, const Vec3& c, double least_thickness) {
  const std::array<Vec3, 3> p{a, b, c};
  std::size_t k = 0;  // the longest edge runs from corner k
  for (std::size_t i = 1; i < 3; ++i)
    if (glm::length(p[(i + 1) % 3] - p[i]) > glm::length(p[(k + 1) % 3] - p[k])) k = i;
  const Vec3 base = p[(k + 1) % 3] - p[k], to = p[(k + 2) % 3] - p[k];
  const double length = std::max(glm::length(base), 1e-12);
  const double x = glm::dot(to, base) / length;
  const double y = std::max(glm::length(glm::cross(base, to)) / length, least_thickness * length);
  const double twice = length * y;
  FlatTriangle flat;
  flat.area = 0.5 * twice;
  flat.gradient[k] = Eigen::Vector2d(-y, x - length) / twice;
  flat.gradient[(k + 1) % 3] = Eigen::Vector2d(y, -x) / twice;
  flat.gradient[(k + 2) % 3] = Eigen::Vector2d(0, length) / twice;
  return flat;
}

std::vector<FlatTriangle> lay_flat(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles) {
  std::vector<FlatTriangle> out;
  out.reserve(triangles.size());
  for (const Triangle& t : triangles) out.push_back(lay_flat(points[t[0]], points[t[1]], points[t[2]]));
  return out;
}

Eigen::Matrix2d jacobian(const FlatTriangle& flat, const Vec2& a, const Vec2& b, const Vec2& c) {
  const Eigen::Vector2d ab(b.x - a.x, b.y - a.y), ac(c.x - a.x, c.y - a.y);
  return ab * flat.gradient[1].transpose() + ac * flat.gradient[2].transpose();
}

double energy(const FlatTriangle& flat, const Eigen::Matrix2d& j) {
  const double det = j(0, 0) * j(1, 1) - j(0, 1) * j(1, 0);
  if (!(det > 0)) return std::numeric_limits<double>::infinity();
  return flat.area * j.squaredNorm() * (1 + 1 / (det * det));
}

FlatTriangle part_way(const FlatTriangle& own, const Eigen::Matrix2d& j) {
  const Singular s = singular(j);
  const double most = std::max(std::abs(std::log(s.s1)), std::abs(std::log(s.s2)));
  const double share = std::acosh(kMostStrain) / (2 * most);  // then (cosh(2 l1) + cosh(2 l2)) / 2 <= kMostStrain
  if (!(share < 1)) return own;
  // J' = U diag(s^share) V^T; a gradient g in the own shape is (J^-1 J')^T g in the shape between.
  const double d1 = std::pow(s.s1, share - 1), d2 = std::pow(s.s2, share - 1);
  const Eigen::Matrix2d turn = d1 * s.v1 * s.v1.transpose() + d2 * s.v2 * s.v2.transpose();
  FlatTriangle out = own;
  for (auto& g : out.gradient) g = turn * g;
  return out;
}

EnergyTerms energy_terms(const FlatTriangle& flat, const Eigen::Matrix2d& j) {
  const auto [s1, s2, u1, u2, v1, v2] = singular(j);
  const double i1 = 1 / s1, i2 = 1 / s2, cube = i1 * i1 * i1 * i2 * i2 * i2;
  EnergyTerms out;
  out.mode[0] = u1 * v1.transpose();
  out.mode[1] = u2 * v2.transpose();
  out.mode[2] = (u2 * v1.transpose() - u1 * v2.transpose()) * std::sqrt(0.5);  // twist
  out.mode[3] = (u2 * v1.transpose() + u1 * v2.transpose()) * std::sqrt(0.5);  // flip
  out.slope = flat.area * ((2 * s1 - 2 * i1 * i1 * i1) * out.mode[0] + (2 * s2 - 2 * i2 * i2 * i2) * out.mode[1]);
  out.curvature = {2 + 6 * i1 * i1 * i1 * i1, 2 + 6 * i2 * i2 * i2 * i2, 2 - 2 * (s1 * s1 - s1 * s2 + s2 * s2) * cube,
                   2 + 2 * (s1 * s1 + s1 * s2 + s2 * s2) * cube};
  for (double& c : out.curvature) c = flat.area * std::max(c, 1e-3);
  return out;
}

}  // namespace pontata
