#include "engine/document/picture_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/predicates.h"
#include "engine/base/units.h"
#include "engine/document/edit_parts.h"
#include "engine/document/plain_text.h"
#include "engine/document/sha256.h"

namespace pontata {

namespace {

constexpr double kMaskSteps = 65536;  // lattice steps in a pixel

bool within(double value, double limit) { return std::abs(value) <= limit; }  // false for no number
bool within(const Vec2& v, double limit) { return within(v.x, limit) && within(v.y, limit); }
bool within(const Vec3& v, double limit) { return within(Vec2(v), limit) && within(v.z, limit); }
bool is_side(double metres) { return metres >= kLeastSide && metres <= kFarthestChart; }

bool square_to_each_other(std::initializer_list<Vec3> directions) {
  constexpr double kSlack = 1e-6;
  for (const Vec3* a = directions.begin(); a != directions.end(); ++a) {
    if (!within(glm::length(*a) - 1, kSlack)) return false;
    for (const Vec3* b = a + 1; b != directions.end(); ++b)
      if (!within(glm::dot(*a, *b), kSlack)) return false;
  }
  return true;
}

bool sound(const PictureFrame& lay) {
  return within(to_vec(lay.at), kFarthestChart) && is_side(lay.width) && is_side(lay.height) &&
         within(lay.turn_deg, kMostTurn);
}

bool sound(const PlaneLay& lay) {
  return within(lay.corner, kFarthestPlace) && square_to_each_other({lay.right, lay.up}) && is_side(lay.width) &&
         is_side(lay.height);
}

bool sound(const HomographyLay& lay) {
  for (int c = 0; c < 3; ++c)
    if (!within(lay.pixel_from_chart[c], kGreatestNumber)) return false;
  return glm::determinant(lay.pixel_from_chart) != 0;
}

bool sound(const CameraLay& lay) {
  const Camera& c = lay.camera;
  return within(c.eye, kFarthestPlace) && square_to_each_other({c.right, c.down, c.ahead}) &&
         c.focal_px >= kLeastSide && within(c.focal_px, kGreatestNumber) && within(c.middle_px, kGreatestNumber) &&
         within(Vec2(c.k1, c.k2), kGreatestNumber);
}

bool sound(const ThinPlate& plate) {
  if (plate.centres.size() != plate.weights.size() || plate.centres.size() > kMostControlPoints) return false;
  const auto good = [](const Vec2& v) { return within(v, kGreatestNumber); };
  return plate.scale_px >= kLeastSide && within(plate.scale_px, kGreatestNumber) && good(plate.constant) &&
         good(plate.per_x) && good(plate.per_y) && std::all_of(plate.centres.begin(), plate.centres.end(), good) &&
         std::all_of(plate.weights.begin(), plate.weights.end(), good);
}

void scale(PictureFrame&, const Vec2&) {}
void scale(PlaneLay&, const Vec2&) {}
void scale(HomographyLay& lay, const Vec2& by) {
  for (int c = 0; c < 3; ++c) lay.pixel_from_chart[c] *= Vec3(by, 1);
}
void scale(CameraLay& lay, const Vec2& by) {
  lay.camera.middle_px *= by;
  lay.camera.focal_px *= by.x;
}

void scale(ThinPlate& plate, const Vec2& by) {
  plate.scale_px *= by.x;
  for (Vec2& centre : plate.centres) centre *= by;
  for (Vec2& weight : plate.weights) weight *= by;
  for (Vec2* part : {&plate.constant, &plate.per_x, &plate.per_y}) *part *= by;
}

Problem bad_mask(const std::string& what) {
  return {what, "the mask", "Draw a closed outline in pixels that does not cross itself."};
}

Result<Ring> mask_ring(const std::vector<Vec2>& mask) {
  Ring ring;
  for (const Vec2& p : mask) {
    if (!within(p, kFarthestPixel)) return bad_mask("a corner is not a usable place in pixels");
    ring.push_back({std::llround(p.x * kMaskSteps), std::llround(p.y * kMaskSteps)});
  }
  return ring;
}

}  // namespace

Result<PictureFileRead> read_picture_file(const Document& doc, const std::string& path, Progress* progress) {
  report(progress, 0, "reading the picture");
  const auto hash = sha256_of_file(path);
  if (!hash) return hash.problem();
  const std::string whole = absolute_path(path);
  for (const auto& wall : doc.walls)
    for (const auto& picture : wall->pictures)
      if (picture->pixels && picture->path == whole && picture->sha256 == *hash)
        return PictureFileRead{whole, *hash, picture->pixels};
  auto pixels = read_picture(path, progress);
  if (!pixels) return pixels.problem();
  return PictureFileRead{whole, *hash, std::move(*pixels)};
}

bool same_proportions(PictureSize a, PictureSize b) {
  return std::abs(static_cast<double>(a.width) * b.height - static_cast<double>(a.height) * b.width) <=
         std::max(b.width, b.height);
}

void count_in_pixels_of(PlacedPicture& picture, PictureSize size) {
  if (picture.size == size) return;
  const Vec2 by{static_cast<double>(size.width) / picture.size.width,
                static_cast<double>(size.height) / picture.size.height};
  std::visit([&](auto& lay) { scale(lay, by); }, picture.lay);
  scale(picture.plate, by);
  if (auto& crop = picture.crop)
    crop = PixelBox{crop->left * by.x, crop->top * by.y, crop->right * by.x, crop->bottom * by.y};
  for (Vec2& p : picture.mask) p *= by;
  for (ControlPoint& point : picture.points) point.pixel *= by;
  if (picture.fit.focal_px) *picture.fit.focal_px *= by.x;
  picture.size = size;
}

Outcome check_picture_name(const WallItem& item, PictureId id, const std::string& name) {
  if (name.find_first_not_of(' ') == std::string::npos)
    return Problem{"a picture needs a name", "", "Give it a word, like sky."};
  if (name.size() > 200 || !is_plain_text(name)) return bad_text("picture's name", name);
  const PlacedPicture* there = item.picture_named(name);
  if (there && there->id != id)
    return Problem{"there is a picture named " + name + " on " + item.name + " already", "", "Choose another name."};
  return Done{};
}

Outcome check_crop(PictureSize size, const PixelBox& crop) {
  const bool inside = crop.left >= 0 && crop.top >= 0 && crop.right <= size.width && crop.bottom <= size.height;
  if (inside && crop.left < crop.right && crop.top < crop.bottom) return Done{};
  return Problem{fmt::format("the crop from {},{} to {},{} is no part of a picture of {} × {} pixels",
                             format_number(crop.left), format_number(crop.top), format_number(crop.right),
                             format_number(crop.bottom), size.width, size.height),
                 "", "Give a box inside the picture, counted from its upper left corner."};
}

Outcome check_mask(PictureSize size, const std::vector<Vec2>& mask) {
  if (mask.empty()) return Done{};
  if (mask.size() > kMostMaskPoints)
    return bad_mask(fmt::format("{} corners are more than {}", mask.size(), kMostMaskPoints));
  const auto ring = mask_ring(mask);
  if (!ring) return ring.problem();
  if (ring->size() < 3) return bad_mask("it has fewer than 3 corners");
  for (std::size_t k = 0; k < ring->size(); ++k)
    if ((*ring)[k] == (*ring)[(k + 1) % ring->size()]) return bad_mask(fmt::format("corner {} stands twice", k + 1));
  if (const auto crossing = find_self_crossing(*ring); crossing.first >= 0)
    return bad_mask(fmt::format("it crosses or touches itself: the edges after corner {} and after corner {} meet",
                                crossing.first + 1, crossing.second + 1));
  Vec2 low = mask[0], high = mask[0];
  for (const Vec2& p : mask) low = glm::min(low, p), high = glm::max(high, p);
  if (high.x <= 0 || high.y <= 0 || low.x >= size.width || low.y >= size.height)
    return bad_mask(fmt::format("it lies beside the picture of {} × {} pixels", size.width, size.height));
  return Done{};
}

Outcome check_fade(double fade) {
  if (fade >= 0 && fade <= 1) return Done{};
  return Problem{fmt::format("a fade of {} % cannot be", format_number(100 * fade)), "",
                 "Give 0 % (shows fully) to 100 % (not at all)."};
}

Outcome check_points(std::span<const ControlPoint> points, const FitOptions& options) {
  if (points.size() > kMostControlPoints)
    return Problem{fmt::format("{} points are more than {}", points.size(), kMostControlPoints), "the points",
                   "Give fewer."};
  for (std::size_t k = 0; k < points.size(); ++k)
    if (!within(points[k].pixel, kFarthestPixel) || !within(to_vec(points[k].place), kFarthestChart))
      return Problem{fmt::format("point {} is no usable place", k + 1), "the points",
                     "Give pixels from the upper left corner, and metres on the wall."};
  if (options.pose < 0 || options.pose >= kMostPoses)
    return Problem{fmt::format("there is no camera place {}", options.pose + 1), "the points", "1 is the best."};
  if (options.focal_px && !(*options.focal_px >= kLeastSide && *options.focal_px <= kGreatestNumber))
    return Problem{"the focal length is no usable number", "the points", "Give it in pixels."};
  return Done{};
}

Outcome check_lay(const PlacedPicture& picture) {
  if (std::visit([](const auto& lay) { return sound(lay); }, picture.lay) && sound(picture.plate)) return Done{};
  return Problem{"how it lies on the wall holds numbers that cannot be", "picture " + picture.name, "Lay it anew."};
}

}  // namespace pontata
