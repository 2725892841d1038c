#include "engine/picture/camera_points.h"

#include <algorithm>
#include <cmath>

namespace pontata {

namespace {

constexpr const char* kWhere = "the control points";
constexpr double kFarthestM = 1e6, kFarthestPx = 1e7;
constexpr double kOnLine = 1e-4;  // thinner than this part of their length, points count as on a line

Eigen::Vector3d eigen(const Vec3& v) { return {v.x, v.y, v.z}; }
Vec3 plain(const Eigen::Vector3d& v) { return {v.x(), v.y(), v.z()}; }

bool within(double value, double most) { return std::abs(value) <= most; }  // false for NaN

bool usable(const SpacePoint& p) {
  for (int k = 0; k < 3; ++k)
    if (!within(p.place[k], kFarthestM) || !within(p.normal[k], kFarthestM)) return false;
  return within(p.pixel.x, kFarthestPx) && within(p.pixel.y, kFarthestPx);
}

// How many differ by more than rounding; quadratic only where many repeat.
template <class V>
std::size_t count_distinct(std::span<const SpacePoint> points, V SpacePoint::*of, double apart, std::size_t enough) {
  std::vector<V> seen;
  for (const SpacePoint& p : points) {
    const auto near = [&](const V& s) { return glm::length(p.*of - s) < apart; };
    if (std::none_of(seen.begin(), seen.end(), near)) seen.push_back(p.*of);
    if (seen.size() >= enough) break;
  }
  return seen.size();
}

template <class V>
bool on_a_line(std::span<const SpacePoint> points, V SpacePoint::*of) {
  V middle(0);
  for (const SpacePoint& p : points) middle += p.*of / static_cast<double>(points.size());
  Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
  for (const SpacePoint& p : points) {
    Eigen::Vector3d d = Eigen::Vector3d::Zero();
    for (int k = 0; k < V::length(); ++k) d[k] = (p.*of)[k] - middle[k];
    spread += d * d.transpose();
  }
  const Eigen::Vector3d along = Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(spread).eigenvalues();
  return !(along(1) > kOnLine * kOnLine * along(2));
}

std::optional<Problem> unusable_lens(const CameraFitOptions& options) {
  const bool distortion = within(options.k1, 100) && within(options.k2, 1e4);
  const bool focal = !options.focal_px || (*options.focal_px > 1e-3 && *options.focal_px < 1e9);
  if (distortion && focal && (options.focal_px || (options.k1 == 0 && options.k2 == 0))) return std::nullopt;
  return Problem{"the lens given for the photograph is not usable", kWhere,
                 "Give its focal length in pixels of the picture, more than 0, or none."};
}

bool usable(const Camera& c) {
  for (const Vec3& v : {c.eye, c.right, c.down, c.ahead})
    if (!within(v.x, kFarthestM) || !within(v.y, kFarthestM) || !within(v.z, kFarthestM)) return false;
  return c.focal_px > 0 && within(c.focal_px, 1e12) && within(c.k1, 1e6) && within(c.k2, 1e9);
}

}  // namespace

Reduction reduction_of(PictureSize picture, std::span<const SpacePoint> points) {
  Reduction out;
  const double n = static_cast<double>(points.size());
  for (const SpacePoint& p : points) out.middle += p.place / n;
  double sum = 0;
  for (const SpacePoint& p : points) sum += glm::dot(p.place - out.middle, p.place - out.middle) / n;
  out.spread_m = std::sqrt(sum);
  out.middle_px = Vec2(picture.width, picture.height) * 0.5;
  out.one_px = 1.0 / std::max(picture.width, picture.height);
  out.corner_px = glm::length(out.middle_px);
  return out;
}

ReducedPoints reduced_points(std::span<const SpacePoint> points, const Reduction& r) {
  ReducedPoints out{.places = {}, .marks = {}, .reach = r.corner_px * r.one_px, .one_px = r.one_px};
  for (const SpacePoint& p : points) {
    const Vec2 mark = (p.pixel - r.middle_px) * r.one_px;
    out.places.push_back(eigen((p.place - r.middle) / r.spread_m));
    out.marks.emplace_back(mark.x, mark.y);
    out.reach = std::max(out.reach, glm::length(mark));
  }
  return out;
}

ReducedCamera reduced_camera(const Camera& camera, const Reduction& r) {
  ReducedCamera out;
  out.turn << eigen(camera.right).transpose(), eigen(camera.down).transpose(), eigen(camera.ahead).transpose();
  const Eigen::Vector3d shift = out.turn * eigen((r.middle - camera.eye) / r.spread_m);
  out.depth = std::log(shift.z());
  out.size = std::log(camera.focal_px * r.one_px) - out.depth;
  out.at = shift.head<2>() * std::exp(out.size);
  out.k1 = camera.k1;
  out.k2 = camera.k2;
  return out;
}

Camera building_camera(const ReducedCamera& camera, const Reduction& r) {
  Camera out;
  out.eye = r.middle - r.spread_m * plain(camera.turn.transpose() * camera.shift());
  out.right = plain(camera.turn.row(0));
  out.down = plain(camera.turn.row(1));
  out.ahead = plain(camera.turn.row(2));
  out.focal_px = std::exp(camera.log_focal()) / r.one_px;
  out.middle_px = r.middle_px;
  out.k1 = camera.k1;
  out.k2 = camera.k2;
  return out;
}

std::optional<Problem> unusable(PictureSize picture, std::span<const SpacePoint> points,
                                const CameraFitOptions& options) {
  if (picture.width < 1 || picture.height < 1) return Problem{"the picture is empty", kWhere, "Take another picture."};
  for (const SpacePoint& p : points)
    if (!usable(p))
      return Problem{"a point is not a usable number, or lies beyond all buildings", kWhere,
                     "Give pixels of the picture and places in metres."};
  if (const auto problem = unusable_lens(options)) return problem;
  if (options.start && !usable(*options.start))
    return Problem{"the camera to begin from is not usable", kWhere, "Leave it out."};
  const std::size_t least = options.focal_px ? 4 : 5;
  if (count_distinct(points, &SpacePoint::place, 1e-6, least) < least ||
      count_distinct(points, &SpacePoint::pixel, 1e-3, least) < least)
    return Problem{options.focal_px ? "a camera needs at least 4 different points where its lens is known"
                                    : "a camera needs at least 5 different points",
                   kWhere, "Mark more points, spread over the picture."};
  if (on_a_line(points, &SpacePoint::place) || on_a_line(points, &SpacePoint::pixel)) return fixes_nothing();
  return std::nullopt;
}

Problem no_camera() {
  return {"no camera sees all the points as they are marked", kWhere,
          "Look for a point marked in the wrong place, or a picture that is mirrored."};
}

Problem only_from_behind() {
  return {"only a camera behind the wall would see the points as they are marked", kWhere,
          "Look for a picture that is mirrored, or points that are exchanged."};
}

Problem fixes_nothing() {
  return {"the points lie on one line and fix no camera", kWhere, "Mark points across the picture as well."};
}

}  // namespace pontata
