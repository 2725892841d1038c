#include "engine/flatten/least_strain.h"

#include <algorithm>
#include <cmath>

#include "engine/flatten/flattening.h"
#include "engine/flatten/label_point.h"

namespace pontata {
namespace {

double distance_to_segment(const Vec3& p, const Vec3& a, const Vec3& b) {
  const Vec3 d = b - a;
  const double t = std::clamp(glm::dot(p - a, d) / std::max(glm::dot(d, d), 1e-300), 0.0, 1.0);
  return glm::distance(p, a + t * d);
}

double distance_to_rims(const Patch& patch, const Vec3& p) {
  double least = 1e300;
  for (const auto& rim : patch.rims)
    for (std::size_t i = 0; i < rim.size(); ++i)
      least = std::min(least, distance_to_segment(p, patch.points[rim[i]], patch.points[rim[(i + 1) % rim.size()]]));
  return least;
}

Vec3 onto(const Sphere& s, const Vec3& p) { return s.centre + s.radius * glm::normalize(p - s.centre); }

}  // namespace

std::optional<double> largest_disc(const Patch& patch) {
  if (!patch.sphere) return std::nullopt;
  const Sphere& s = *patch.sphere;
  Vec3 best = onto(s, patch.points[label_point(patch)]);
  double distance = distance_to_rims(patch, best);
  // Small moves round the best point, halved when none helps; a step never passes the rim as it is shorter than the
  // distance to it.
  for (double step = 0.4 * distance; step > 1e-3 * distance;) {
    const Vec3 up = glm::normalize(best - s.centre);
    const Vec3 e1 = glm::normalize(glm::cross(up, std::abs(up.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{1, 0, 0}));
    const Vec3 e2 = glm::cross(up, e1);
    bool moved = false;
    for (int k = 0; k < 12; ++k) {
      const double angle = k * std::acos(-1.0) / 6;
      const Vec3 p = onto(s, best + step * (std::cos(angle) * e1 + std::sin(angle) * e2));
      if (const double d = distance_to_rims(patch, p); d > distance) distance = d, best = p, moved = true;
    }
    if (!moved) step *= 0.5;
  }
  return 2 * std::asin(std::min(1.0, distance / (2 * s.radius)));
}

double least_strain_of_disc(double alpha) {
  if (!(alpha > 1e-9)) return 0;
  const double ratio = alpha / std::sin(alpha);
  return (ratio - 1) / (ratio + 1);
}

}  // namespace pontata
