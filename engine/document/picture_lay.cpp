#include "engine/document/picture_lay.h"

#include <cmath>

#include "engine/document/picture_parts.h"
#include "engine/document/picture_place.h"
#include "engine/picture/plane_lay.h"
#include "engine/picture/wall_place.h"

namespace pontata {

namespace {

Problem beside_wall(const WallItem& item) {
  return {"the picture would lie beside the wall", item.name, "Place it so that some of it falls on the wall."};
}

// The width is measured through the lower left corner, which aligning moves: repeated until it stands.
Result<PictureFrame> aligned_frame(const WallItem& item, const PlacedPicture& picture, const BySize& size) {
  ChartPoint at = size.at;
  Result<PictureFrame> frame = PictureFrame{};
  for (int k = 0; k < 20; ++k) {
    frame = frame_by_size(*item.wall, picture.size, at, size.width_m, size.turn_deg);
    if (frame) frame = aligned(item, picture, *frame, size.align);
    for (const Align& align : size.also)
      if (frame) frame = aligned(item, picture, *frame, align);
    if (!frame || glm::length(to_vec(frame->at) - to_vec(at)) < 1e-9) break;
    at = frame->at;
  }
  if (frame && !touches_wall(*item.wall->chart, *frame)) return beside_wall(item);
  return frame;
}

Result<PlaneLay> aligned_plane(const WallItem& item, const PlacedPicture& picture, const BySize& size) {
  const bool plan = size.lay == BySize::Lay::plan;
  auto lay = place_by_plane(*item.wall, picture.size, plan, size.at, size.width_m, size.turn_deg);
  if (lay) lay = aligned(item, picture, *lay, size.align);
  for (const Align& align : size.also)
    if (lay) lay = aligned(item, picture, *lay, align);
  return lay;
}

Result<Lay> by_plane(const WallItem& item, const PlacedPicture& picture, const BySize& size) {
  if (size.fit_rest)
    return Problem{"the part without giornate is measured along the wall, not in plan or elevation", item.name,
                   "Lay the picture unrolled."};
  const auto lay = aligned_plane(item, picture, size);
  if (!lay) return lay.problem();
  PlacedPicture placed = picture;
  placed.lay = *lay;
  if (!lies_on_wall(*item.wall, placed)) return beside_wall(item);
  return Lay(*lay);
}

Result<Lay> by_size(const WallItem& item, const PlacedPicture& picture, const BySize& size) {
  if (size.lay != BySize::Lay::unrolled) return by_plane(item, picture, size);
  const bool aligns = size.align.to != AlignTo::none || !size.also.empty();
  const auto frame = size.fit_rest ? frame_in_rest(item, picture.size, size.turn_deg)
                     : aligns      ? aligned_frame(item, picture, size)
                                   : place_by_size(*item.wall, picture.size, size.at, size.width_m, size.turn_deg);
  if (!frame) return frame.problem();
  return Lay(*frame);
}

Result<LaidPicture> laid(const Document&, const WallItem& item, const PlacedPicture& picture, const BySize& size) {
  auto lay = by_size(item, picture, size);
  if (!lay) return lay.problem();
  LaidPicture out;
  out.lay = std::move(*lay);
  return out;
}

Result<LaidPicture> laid(const Document&, const WallItem& item, const PlacedPicture& picture, const ByPoints& by) {
  if (const auto good = check_points(by.points, by.options); !good) return good.problem();
  auto fitted = fit_picture(*item.wall, picture.size, by.points, by.options);
  if (!fitted) return fitted.problem();
  LaidPicture out;
  out.lay = std::move(fitted->lay);
  out.plate = std::move(fitted->plate);
  out.points = by.points;
  out.options = by.options;
  out.report = std::move(fitted->report);
  return out;
}

Result<LaidPicture> laid(const Document&, const WallItem& item, const PlacedPicture& picture, const FromEye& from) {
  const auto camera = eye_camera(from.eye, from.look, from.up, from.angle_deg, picture.size);
  if (!camera) return camera.problem();
  LaidPicture out;
  out.lay = CameraLay{*camera};
  PlacedPicture seen = picture;
  seen.lay = out.lay;
  seen.plate = {};
  if (!lies_on_wall(*item.wall, seen))
    return Problem{"the eye does not look at the wall", item.name, "Give a place on the wall to look at."};
  return out;
}

}  // namespace

Result<LaidPicture> laid_by(const Document& doc, const WallItem& item, const PlacedPicture& picture,
                            const Laying& laying) {
  return std::visit([&](const auto& one) { return laid(doc, item, picture, one); }, laying);
}

Result<Lay> shifted(const WallItem& item, const PlacedPicture& picture, const Vec2& by) {
  if (!std::isfinite(by.x) || !std::isfinite(by.y))
    return Problem{"the way to move it is not a usable number", item.name, "Give two lengths."};
  PlacedPicture moved = picture;
  if (auto* frame = std::get_if<PictureFrame>(&moved.lay)) {
    frame->at = {frame->at.u + by.x, frame->at.v + by.y};
    if (!fits_lattice(frame->at)) return beside_wall(item);
  } else if (auto* plane = std::get_if<PlaneLay>(&moved.lay)) {
    plane->corner += by.x * plane->right + by.y * plane->up;
  } else {
    return Problem{"a picture that was set by points or is seen from an eye is not moved", "picture " + picture.name,
                   "Set its points anew, or lay it by size and place."};
  }
  if (!lies_on_wall(*item.wall, moved)) return beside_wall(item);
  return moved.lay;
}

bool lies_on_wall(const ChartedWall& wall, const PlacedPicture& picture) {
  if (const auto* frame = std::get_if<PictureFrame>(&picture.lay)) return touches_wall(*wall.chart, *frame);
  constexpr int kSteps = 32;
  const PixelBox box = picture.crop.value_or(PixelBox{0, 0, 1.0 * picture.size.width, 1.0 * picture.size.height});
  for (int j = 0; j <= kSteps; ++j)
    for (int i = 0; i <= kSteps; ++i) {
      const Vec2 pixel{box.left + (box.right - box.left) * i / kSteps, box.top + (box.bottom - box.top) * j / kSteps};
      if (shown_at(picture, pixel) + picture.fade > 0 && wall_place(wall, picture, pixel)) return true;
    }
  return false;
}

}  // namespace pontata
