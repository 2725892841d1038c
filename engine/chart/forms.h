// The linear map from one chart triangle to space.
#pragma once

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/base/vec.h"

namespace pontata {

// Squared length in space of a chart step (du, dv): E du^2 + 2 F du dv + G dv^2.
struct LinearForm {
  double E = 1, F = 0, G = 1;
};

// Triangle with sides e1, e2 in space (m) over chart sides d1, d2 (m). Precondition: cross2(d1, d2) != 0.
inline LinearForm linear_form(const Vec3& e1, const Vec3& e2, const Vec2& d1, const Vec2& d2) {
  const double det = cross2(d1, d2);
  const Vec3 along_u = (e1 * d2.y - e2 * d1.y) / det, along_v = (e2 * d1.x - e1 * d2.x) / det;
  return {glm::dot(along_u, along_u), glm::dot(along_u, along_v), glm::dot(along_v, along_v)};
}

// Least and greatest scale factor space/chart.
inline std::pair<double, double> principal_scales(const LinearForm& f) {
  const double mean = 0.5 * (f.E + f.G), half = std::hypot(0.5 * (f.E - f.G), f.F);
  const double determinant = std::max(0.0, f.E * f.G - f.F * f.F);
  const double greatest = mean + half;  // the least from the product, where the difference would cancel
  return {greatest > 0 ? std::sqrt(determinant / greatest) : 0, std::sqrt(greatest)};
}

}  // namespace pontata
