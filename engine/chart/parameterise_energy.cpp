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

// From the parts of J that turn (e + i h) and that mirror (f + i g), as complex numbers: U turns by half the sum of
// their angles, V by half the difference; all by square roots.
Singular singular(const Eigen::Matrix2d& j) {
  const double e = 0.5 * (j(0, 0) + j(1, 1)), f = 0.5 * (j(0, 0) - j(1, 1));
  const double g = 0.5 * (j(1, 0) + j(0, 1)), h = 0.5 * (j(1, 0) - j(0, 1));
  const double q = std::sqrt(e * e + h * h), r = std::sqrt(f * f + g * g);
  const double det = j(0, 0) * j(1, 1) - j(0, 1) * j(1, 0);
  const double tx = e / q, ty = h / q, mx = r > 0 ? f / r : 1, my = r > 0 ? g / r : 0;
  const double wx = tx * mx - ty * my, wy = tx * my + ty * mx;
  const double half = std::sqrt(0.5 * (1 + std::abs(wx)));
  const Eigen::Vector2d u1 = wx >= 0 ? Eigen::Vector2d(half, 0.5 * wy / half) : Eigen::Vector2d(0.5 * wy / half, half);
  const Eigen::Vector2d v1(u1.x() * tx + u1.y() * ty, u1.y() * tx - u1.x() * ty);
  return {q + r, det / (q + r), u1, {-u1.y(), u1.x()}, v1, {-v1.y(), v1.x()}};  // det / s1: q - r without cancellation
}

// Eigenvalues of the energy's second derivative for one square metre, held above zero: along s1, along s2, twist, flip.
std::array<double, 4> curvatures(double s1, double s2) {
  const double i1 = 1 / s1, i2 = 1 / s2, p1 = i1 * i1, p2 = i2 * i2, cube = p1 * i1 * p2 * i2;
  const double squares = s1 * s1 + s2 * s2, product = s1 * s2;
  return {std::max(2 + 6 * p1 * p1, 1e-3), std::max(2 + 6 * p2 * p2, 1e-3),
          std::max(2 - 2 * (squares - product) * cube, 1e-3), std::max(2 + 2 * (squares + product) * cube, 1e-3)};
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

bool scales_within(const Eigen::Matrix2d& j, double most) {
  // s1^2 and s2^2 are the roots of x^2 - sum x + product: none beyond most^2, none below its inverse.
  const double sum = j.squaredNorm(), det = j(0, 0) * j(1, 1) - j(0, 1) * j(1, 0), product = det * det, m = most * most;
  return m * m - sum * m + product >= 0 && 1 - sum * m + product * m * m >= 0 && product < m * m && product * m * m > 1;
}

FlatTriangle part_way(const FlatTriangle& own, const Eigen::Matrix2d& j) {
  static const double kMost = std::exp(0.5 * std::acosh(kMostStrain));  // scales between 1 / kMost and kMost are near
  if (scales_within(j, kMost)) return own;
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
  const double i1 = 1 / s1, i2 = 1 / s2;
  EnergyTerms out;
  out.mode[0] = u1 * v1.transpose();
  out.mode[1] = u2 * v2.transpose();
  out.mode[2] = (u2 * v1.transpose() - u1 * v2.transpose()) * std::sqrt(0.5);  // twist
  out.mode[3] = (u2 * v1.transpose() + u1 * v2.transpose()) * std::sqrt(0.5);  // flip
  out.slope = flat.area * ((2 * s1 - 2 * i1 * i1 * i1) * out.mode[0] + (2 * s2 - 2 * i2 * i2 * i2) * out.mode[1]);
  out.curvature = curvatures(s1, s2);
  for (double& c : out.curvature) c *= flat.area;
  return out;
}

Vec2 PointNewton::step() const {
  const double mean = 0.5 * (xx_ + yy_), root = std::sqrt(0.25 * (xx_ - yy_) * (xx_ - yy_) + xy_ * xy_);
  const double greatest = mean + root, least = mean - root, enough = std::max(std::abs(least), 1e-2 * greatest);
  if (!(greatest > 0)) return {0, 0};
  double xx = xx_, xy = xy_, yy = yy_;
  if (least < enough) {  // lifts the lesser eigenvalue; (greatest - H) / 2 root projects on its direction
    const double lift = (enough - least) / (2 * root);
    xx += lift * (greatest - xx_), yy += lift * (greatest - yy_), xy -= lift * xy_;
  }
  const double det = xx * yy - xy * xy;
  const Vec2 d = Vec2{xy * slope_.y - yy * slope_.x, xy * slope_.x - xx * slope_.y} / det;
  return std::isfinite(d.x + d.y) ? d : Vec2{0, 0};
}

}  // namespace pontata
