#include "engine/picture/camera.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace pontata {

namespace {

constexpr const char* kWhere = "the eye";

// Factor of distortion and its slope of r * factor against r.
double factor(const Camera& c, double r2) { return 1 + r2 * (c.k1 + r2 * c.k2); }
double slope(const Camera& c, double r2) { return 1 + r2 * (3 * c.k1 + 5 * c.k2 * r2); }

// Radius (in focal lengths, undistorted) up to which the picture grows outward; infinity without a fold.
double fold_squared(const Camera& c) {
  // 1 + 3 k1 s + 5 k2 s^2 = 0, least positive s.
  const double a = 5 * c.k2, b = 3 * c.k1;
  const double none = std::numeric_limits<double>::infinity();
  if (a == 0) return b < 0 ? -1 / b : none;
  const double disc = b * b - 4 * a;
  if (disc < 0) return none;
  const double q = -0.5 * (b + std::copysign(std::sqrt(disc), b));
  double best = none;
  for (const double s : {q / a, q != 0 ? 1 / q : -1.0})
    if (s > 0) best = std::min(best, s);
  return best;
}

}  // namespace

std::optional<Vec2> project(const Camera& c, const Vec3& place) {
  const Vec3 d = place - c.eye;
  const double z = glm::dot(d, c.ahead);
  if (!(z > 1e-9)) return std::nullopt;
  const Vec2 q(glm::dot(d, c.right) / z, glm::dot(d, c.down) / z);
  const double r2 = glm::dot(q, q);
  if ((c.k1 != 0 || c.k2 != 0) && !(r2 < fold_squared(c))) return std::nullopt;
  return c.middle_px + c.focal_px * factor(c, r2) * q;
}

std::optional<Vec3> sight_line(const Camera& c, Vec2 pixel) {
  const Vec2 distorted = (pixel - c.middle_px) / c.focal_px;
  const double wanted = glm::length(distorted);
  if (!std::isfinite(wanted)) return std::nullopt;
  double r = wanted;
  if (wanted > 0 && (c.k1 != 0 || c.k2 != 0)) {
    const double fold = std::sqrt(fold_squared(c));
    double low = 0, high = std::isfinite(fold) ? fold : 1;
    if (!std::isfinite(fold)) {
      while (high * factor(c, high * high) < wanted && high < 1e6) high *= 2;
    } else if (fold * factor(c, fold * fold) <= wanted) {
      return std::nullopt;
    }
    r = std::min(r, high);
    for (int k = 0; k < 100; ++k) {
      const double miss = r * factor(c, r * r) - wanted;
      (miss > 0 ? high : low) = r;
      double next = r - miss / slope(c, r * r);
      if (!(next > low && next < high)) next = 0.5 * (low + high);
      if (std::abs(next - r) < 1e-14 * (1 + r)) break;
      r = next;
    }
  }
  const Vec2 q = wanted > 0 ? distorted * (r / wanted) : Vec2(0, 0);
  return glm::normalize(c.ahead + q.x * c.right + q.y * c.down);
}

Result<Camera> eye_camera(const Vec3& eye, const Vec3& look, const Vec3& up, double angle_deg, PictureSize picture) {
  constexpr double kFarthest = 1e9;  // m
  for (const Vec3& v : {eye, look, up})
    if (!(std::max({std::abs(v.x), std::abs(v.y), std::abs(v.z)}) <= kFarthest) || std::isnan(v.x + v.y + v.z))
      return Problem{"a place is not a usable number", kWhere, "Give X,Y,Z as three lengths."};
  if (!(angle_deg > 0 && angle_deg < 170))
    return Problem{"the angle of view must lie between 0 and 170 degrees", kWhere,
                   "Give the angle across the picture's width."};
  if (picture.width < 1 || picture.height < 1)
    return Problem{"the picture is empty", kWhere, "Give its width and height in pixels."};
  const Vec3 ahead = look - eye, across = glm::cross(ahead, up);
  if (!(glm::length(ahead) > 1e-6))
    return Problem{"the eye and the place it looks at are the same", kWhere, "Give two places apart."};
  if (!(glm::length(across) > 1e-9 * glm::length(ahead) * std::max(glm::length(up), 1e-300)))
    return Problem{"upward runs along the line of sight", kWhere,
                   "Give another direction for the picture's top, such as 1,0,0."};
  Camera c;
  c.eye = eye;
  c.ahead = glm::normalize(ahead);
  c.right = glm::normalize(across);
  c.down = glm::cross(c.ahead, c.right);
  c.middle_px = Vec2(picture.width, picture.height) * 0.5;
  c.focal_px = 0.5 * picture.width / std::tan(0.5 * angle_deg * std::numbers::pi / 180);
  return c;
}

}  // namespace pontata
