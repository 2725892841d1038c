#include "engine/picture/wall_place.h"

#include <glm/matrix.hpp>

namespace pontata {

namespace {

std::optional<ChartPoint> on_wall(const ChartedWall& wall, ChartPoint p) {
  return fits_lattice(p) && wall.chart->locate(p) ? std::optional(p) : std::nullopt;
}

bool faces(const ChartedWall& wall, const WallPoint& point, const Vec3& direction) {
  return glm::dot(normal(wall.mesh(), point), direction) < 0;
}

std::optional<ChartPoint> place_of(const PictureFrame& lay, const ChartedWall& wall, PictureSize size, Vec2 pixel) {
  return on_wall(wall, from_pixel(lay, size, pixel));
}

std::optional<ChartPoint> place_of(const PlaneLay& lay, const ChartedWall& wall, PictureSize size, Vec2 pixel) {
  constexpr double kBefore = 2000;  // m; no wall stands so far off the plane
  constexpr double kBeyond = 1e-6;  // m
  constexpr int kMostBacks = 64;
  const Vec3 on_plane =
      lay.corner + pixel.x / size.width * lay.width * lay.right + (1 - pixel.y / size.height) * lay.height * lay.up;
  const Vec3 toward = glm::cross(lay.right, lay.up);  // out of the picture, to whoever looks at it
  Vec3 from = on_plane + kBefore * toward;
  for (int k = 0; k < kMostBacks; ++k) {
    const auto hit = wall.pick.cast(from, -toward);
    if (!hit) break;
    if (faces(wall, hit->point, -toward)) return wall.chart->address(hit->point);
    from -= (hit->distance + kBeyond) * toward;
  }
  return std::nullopt;
}

std::optional<ChartPoint> place_of(const HomographyLay& lay, const ChartedWall& wall, PictureSize, Vec2 pixel) {
  const Vec3 p = glm::inverse(lay.pixel_from_chart) * Vec3(pixel, 1);
  const ChartPoint place{p.x / p.z, p.y / p.z};
  const bool ahead = (lay.pixel_from_chart * Vec3(place.u, place.v, 1)).z > 0;
  return ahead ? on_wall(wall, place) : std::nullopt;
}

std::optional<ChartPoint> place_of(const CameraLay& lay, const ChartedWall& wall, PictureSize, Vec2 pixel) {
  const auto direction = sight_line(lay.camera, pixel);
  const auto hit = direction ? wall.pick.cast(lay.camera.eye, *direction) : std::nullopt;
  return hit && faces(wall, hit->point, *direction) ? std::optional(wall.chart->address(hit->point)) : std::nullopt;
}

// The pixel of the lay beneath the plate that the plate carries to `pixel`: p + plate(p) = pixel. The plate is a small
// smooth correction, so that the plain iteration converges; nothing where it does not.
std::optional<Vec2> beneath(const ThinPlate& plate, Vec2 pixel) {
  if (plate.centres.empty()) return pixel;
  Vec2 p = pixel;
  for (int k = 0; k < 100; ++k) {
    const Vec2 next = pixel - plate.at(p);
    const double step = glm::length(next - p);
    p = next;
    if (step < 1e-9) return p;
  }
  return glm::length(p + plate.at(p) - pixel) < 1e-6 ? std::optional(p) : std::nullopt;
}

}  // namespace

std::optional<ChartPoint> wall_place(const ChartedWall& wall, const PlacedPicture& picture, Vec2 pixel) {
  const auto bare = beneath(picture.plate, pixel);
  if (!bare) return std::nullopt;
  return std::visit([&](const auto& lay) { return place_of(lay, wall, picture.size, *bare); }, picture.lay);
}

}  // namespace pontata
