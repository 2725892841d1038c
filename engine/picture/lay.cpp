#include "engine/picture/lay.h"

#include <cmath>

namespace pontata {

namespace {

std::optional<Vec2> pixel_of(const PictureFrame& lay, PictureSize picture, ChartPoint p, const Vec3&) {
  return to_pixel(lay, picture, p);
}

std::optional<Vec2> pixel_of(const PlaneLay& lay, PictureSize picture, ChartPoint, const Vec3& place) {
  const Vec3 d = place - lay.corner;
  return Vec2(glm::dot(d, lay.right) / lay.width * picture.width,
              (1 - glm::dot(d, lay.up) / lay.height) * picture.height);
}

std::optional<Vec2> pixel_of(const HomographyLay& lay, PictureSize, ChartPoint p, const Vec3&) {
  const Vec3 h = lay.pixel_from_chart * Vec3(p.u, p.v, 1);
  if (!(h.z > 0)) return std::nullopt;
  return Vec2(h.x / h.z, h.y / h.z);
}

std::optional<Vec2> pixel_of(const CameraLay& lay, PictureSize, ChartPoint, const Vec3& place) {
  return project(lay.camera, place);
}

}  // namespace

Vec2 ThinPlate::at(Vec2 pixel) const {
  if (centres.empty()) return {0, 0};
  const Vec2 q = pixel / scale_px;
  Vec2 sum = constant + q.x * per_x + q.y * per_y;
  for (std::size_t k = 0; k < centres.size(); ++k) {
    const Vec2 d = q - centres[k] / scale_px;
    const double r2 = glm::dot(d, d);
    if (r2 > 0) sum += weights[k] * (0.5 * r2 * std::log(r2));
  }
  return sum;
}

std::optional<Vec2> pixel_at(const Lay& lay, const ThinPlate& plate, PictureSize picture, ChartPoint p,
                             const Vec3& place) {
  auto pixel = std::visit([&](const auto& one) { return pixel_of(one, picture, p, place); }, lay);
  if (pixel && !plate.centres.empty()) *pixel += plate.at(*pixel);
  return pixel;
}

std::optional<Vec3> eye_of(const Lay& lay) {
  if (const auto* seen = std::get_if<CameraLay>(&lay)) return seen->camera.eye;
  return std::nullopt;
}

}  // namespace pontata
