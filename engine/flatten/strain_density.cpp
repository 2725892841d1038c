#include "engine/flatten/strain_density.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pontata {
namespace {

// A mode of the gradient, row-major as in Gradient.
using Mode = std::array<double, 4>;

Mode outer(Vec2 u, Vec2 v) { return {u.x * v.x, u.x * v.y, u.y * v.x, u.y * v.y}; }

Mode mix(double a, const Mode& m, double b, const Mode& n) {
  Mode out{};
  for (std::size_t k = 0; k < 4; ++k) out[k] = a * m[k] + b * n[k];
  return out;
}

// How the mode's amount follows the corners' coordinates.
std::array<double, 6> by_corners(const RestTriangle& r, const Mode& m) {
  const double x1 = m[0] * r.a + m[1] * r.b, y1 = m[2] * r.a + m[3] * r.b, x2 = m[1] * r.d, y2 = m[3] * r.d;
  return {-x1 - x2, -y1 - y2, x1, y1, x2, y2};
}

void add_square(TriangleTerm& out, double curvature, const std::array<double, 6>& b) {
  if (!(curvature > 0)) return;
  for (std::size_t i = 0, n = 0; i < 6; ++i)
    for (std::size_t j = 0; j <= i; ++j, ++n) out.curvature[n] += curvature * b[i] * b[j];
}

}  // namespace

Density free_density(double s) {
  const double e = (s - 1) * (s + 1) / s, inverse = 1 / (s * s);
  return {e * e, 2 * e * (1 + inverse), 2 + 6 * inverse * inverse, 0, 0, 0};
}

Density limited_density(double s, double limit, double scale) {
  const double e = s - 1, left = (limit - e) * (limit + e);
  if (!(left > 0)) return {std::numeric_limits<double>::infinity(), 0, 0, 0, 0, 0};
  const double twice = 2 * scale * (limit * limit + e * e) / (left * left);
  return {-scale * std::log(left / (limit * limit)) - 2 * scale * std::log(limit),
          2 * scale * e / left,
          twice,
          -2 * scale * limit / left,
          twice,
          -4 * scale * e * limit / (left * left)};
}

TriangleTerm triangle_term(const RestTriangle& rest, const Gradient& g, const Density& greater, const Density& lesser,
                           Stretches s) {
  // J = U diag(greater, lesser) V^T; columns of U and V by their angles.
  const double sum = std::atan2(g.yx - g.xy, g.xx + g.yy), difference = std::atan2(g.yx + g.xy, g.xx - g.yy);
  const double phi = 0.5 * (sum + difference), theta = 0.5 * (sum - difference);
  const Vec2 u1{std::cos(phi), std::sin(phi)}, u2{-u1.y, u1.x};
  const Vec2 v1{std::cos(theta), -std::sin(theta)}, v2{-v1.y, v1.x};
  const Mode along = outer(u1, v1), across = outer(u2, v2), left = outer(u2, v1), right = outer(u1, v2);
  const double half = std::sqrt(0.5);
  const auto b1 = by_corners(rest, along), b2 = by_corners(rest, across);
  TriangleTerm out;
  for (std::size_t k = 0; k < 6; ++k) {
    out.slope[k] = greater.slope * b1[k] + lesser.slope * b2[k];
    out.mixed[k] = greater.mixed * b1[k] + lesser.mixed * b2[k];
  }
  const double gap = s.greater - s.lesser;
  const double shear = gap > 1e-7 ? (greater.slope - lesser.slope) / gap : 0.5 * (greater.curvature + lesser.curvature);
  const double twist = (greater.slope + lesser.slope) / std::max(s.greater + s.lesser, 1e-9);
  add_square(out, greater.curvature, b1);
  add_square(out, lesser.curvature, b2);
  add_square(out, shear, by_corners(rest, mix(half, left, half, right)));
  add_square(out, twist, by_corners(rest, mix(half, left, -half, right)));
  return out;
}

}  // namespace pontata
