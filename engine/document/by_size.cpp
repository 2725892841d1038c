#include "engine/document/by_size.h"

#include <cmath>
#include <numbers>

#include "engine/picture/plane_lay.h"
#include "engine/picture/wall_place.h"

namespace pontata {
namespace {

Vec2 lower_left(const PlacedPicture& picture) { return {0, 1.0 * picture.size.height}; }

std::optional<BySize> told(const ChartedWall& wall, const PlacedPicture&, const PictureFrame& frame) {
  BySize out;
  out.at = frame.at;
  out.width_m = surface_width(wall, frame.at, frame.width);
  out.turn_deg = frame.turn_deg;
  return out;
}

std::optional<BySize> told(const ChartedWall& wall, const PlacedPicture& picture, const PlaneLay& lay) {
  const bool plan = std::abs(looks_along(lay).z) > 0.5;
  BySize out;
  out.lay = plan ? BySize::Lay::plan : BySize::Lay::elevation;
  out.at = wall_place(wall, picture, lower_left(picture)).value_or(wall.address(lay.corner).place);
  out.width_m = lay.width;
  const auto level = place_by_plane(wall, picture.size, plan, out.at, lay.width, 0);
  if (level)
    out.turn_deg =
        std::atan2(glm::dot(lay.right, level->up), glm::dot(lay.right, level->right)) * 180 / std::numbers::pi;
  return out;
}

template <class Other>
std::optional<BySize> told(const ChartedWall&, const PlacedPicture&, const Other&) {
  return std::nullopt;
}

}  // namespace

std::optional<BySize> by_size_of(const ChartedWall& wall, const PlacedPicture& picture) {
  if (!picture.points.empty()) return std::nullopt;
  return std::visit([&](const auto& lay) { return told(wall, picture, lay); }, picture.lay);
}

std::optional<MovedLay> moved_along(const ChartedWall& wall, const PlacedPicture& picture, ChartPoint from, Vec2 by) {
  MovedLay out{picture.lay, by};
  if (auto* frame = std::get_if<PictureFrame>(&out.lay)) {
    frame->at = to_chart(to_vec(frame->at) + by);
    return out;
  }
  auto* plane = std::get_if<PlaneLay>(&out.lay);
  const auto was = wall.position(from), is = wall.position(to_chart(to_vec(from) + by));
  if (!plane || !was || !is) return std::nullopt;
  out.by = {glm::dot(*is - *was, plane->right), glm::dot(*is - *was, plane->up)};
  plane->corner += out.by.x * plane->right + out.by.y * plane->up;
  return out;
}

std::optional<Lay> scaled_about(const PlacedPicture& picture, Vec2 kept, double factor) {
  const Vec2 corner = kept + factor * (lower_left(picture) - kept);
  Lay out = picture.lay;
  if (auto* frame = std::get_if<PictureFrame>(&out)) {
    frame->at = from_pixel(*frame, picture.size, corner);
    frame->width *= factor;
    frame->height *= factor;
    return out;
  }
  auto* plane = std::get_if<PlaneLay>(&out);
  if (!plane) return std::nullopt;
  const Vec2 share = corner / Vec2(picture.size.width, picture.size.height);
  plane->corner += share.x * plane->width * plane->right + (1 - share.y) * plane->height * plane->up;
  plane->width *= factor;
  plane->height *= factor;
  return out;
}

}  // namespace pontata
