#include "engine/picture/fit_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/base/units.h"

namespace pontata {

namespace {

constexpr double kNarrow = 0.1;     // breadth below which points lie nearly on a line
constexpr double kSmallPart = 0.1;  // of the picture, or of the wall, inside the points' outline
constexpr double kNearPx = 0.005;   // two points nearly the same: of the picture's diagonal,
constexpr double kNearWall = 0.01;  // or m on the wall
constexpr int kSearch = 24;         // places tried each way for telling cameras apart
constexpr double kTellApartPx = 5;  // a difference that a marked point shows

std::string place_words(const Vec3& p) {
  return fmt::format("{}, {}, {} m", format_fixed(p.x, 2), format_fixed(p.y, 2), format_fixed(p.z, 2));
}

std::vector<Vec2> pixels_of(std::span<const MarkedPoint> points) {
  std::vector<Vec2> out;
  for (const auto& p : points) out.push_back(p.pixel);
  return out;
}

std::vector<Vec2> chart_of(std::span<const MarkedPoint> points) {
  std::vector<Vec2> out;
  for (const auto& p : points) out.push_back(to_vec(p.chart));
  return out;
}

void warn_beyond(PictureSize picture, std::span<const MarkedPoint> points, std::vector<std::string>& out) {
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 p = points[i].pixel;
    if (p.x >= 0 && p.y >= 0 && p.x <= picture.width && p.y <= picture.height) continue;
    out.push_back(fmt::format("{} lies beyond the picture, at {}, {} px of {} x {}.", point_name(i),
                              format_fixed(p.x, 0), format_fixed(p.y, 0), picture.width, picture.height));
  }
}

void warn_near(PictureSize picture, std::span<const MarkedPoint> points, std::vector<std::string>& out) {
  const double near_px = kNearPx * std::hypot(picture.width, picture.height);
  for (std::size_t i = 0; i < points.size(); ++i)
    for (std::size_t j = i + 1; j < points.size(); ++j) {
      const double px = glm::distance(points[i].pixel, points[j].pixel);
      const double m = glm::distance(points[i].place, points[j].place);
      if (px >= near_px && m >= kNearWall) continue;
      out.push_back(
          fmt::format("Points {} and {} are nearly the same place ({} px, {} mm apart): together they tell "
                      "little more than one.",
                      i + 1, j + 1, format_fixed(px, 1), format_fixed(1000 * m, 1)));
    }
}

void warn_spread(const ChartedWall& wall, PictureSize picture, std::span<const MarkedPoint> points,
                 std::vector<std::string>& out) {
  if (points.size() < 3) return;
  const auto pixels = pixels_of(points), chart = chart_of(points);
  if (std::min(breadth(pixels), breadth(chart)) < kNarrow) {
    out.push_back("The points lie nearly on a line: across it little holds the picture. Mark a point well beside it.");
    return;
  }
  const auto box = wall.chart->box();
  const double of_picture = outline_area(pixels) / (static_cast<double>(picture.width) * picture.height);
  const double of_wall = outline_area(chart) / (box.width * box.height);
  if (std::max(of_picture, of_wall) >= kSmallPart) return;
  const auto part = part_of_picture(picture, pixels);
  out.push_back(
      fmt::format("The points cover only {} % of the picture{}: far from them it may be off by much more than "
                  "the likely error. Mark points toward the other corners.",
                  std::max(1.0, std::round(100 * of_picture)), part.empty() ? "" : ", all in " + part));
}

// Places all over the wall that the first camera sees in its picture, none behind another part of the wall.
template <class F>
void for_seen_places(const ChartedWall& wall, PictureSize picture, const Camera& camera, const F& f) {
  const auto box = wall.chart->box();
  for (int k = 0; k < kSearch * kSearch; ++k) {
    const ChartPoint at{box.width * (k % kSearch + 0.5) / kSearch, box.height * (k / kSearch + 0.5) / kSearch};
    const auto place = wall.position(at);
    if (!place) continue;
    const auto pixel = project(camera, *place);
    if (!pixel || pixel->x < 0 || pixel->y < 0 || pixel->x > picture.width || pixel->y > picture.height) continue;
    const Vec3 ray = *place - camera.eye;
    const double far = glm::length(ray);
    if (const auto hit = wall.pick.cast(camera.eye, ray, far); hit && hit->distance < far - 0.02) continue;
    f(at, *place, *pixel);
  }
}

}  // namespace

std::string point_name(std::size_t index) { return fmt::format("Point {}", index + 1); }

std::vector<std::string> lie_warnings(const ChartedWall& wall, PictureSize picture,
                                      std::span<const MarkedPoint> points) {
  std::vector<std::string> out;
  warn_beyond(picture, points, out);
  warn_near(picture, points, out);
  warn_spread(wall, picture, points, out);
  return out;
}

std::vector<std::string> camera_warnings(const ChartedWall& wall, PictureSize picture, std::span<const Camera> cameras,
                                         std::size_t taken) {
  if (cameras.size() < 2) return {};
  const Camera& camera = cameras[taken];
  std::string others;
  const Camera* other = nullptr;
  for (std::size_t k = 0; k < cameras.size(); ++k) {
    if (k == taken) continue;
    if (!other) other = &cameras[k];
    others += (others.empty() ? "" : "; ") + place_words(cameras[k].eye);
  }
  double most = 0;
  std::string where;
  for_seen_places(wall, picture, camera, [&](ChartPoint at, const Vec3& place, Vec2 pixel) {
    const auto elsewhere = project(*other, place);
    const double apart = elsewhere ? glm::distance(*elsewhere, pixel) : std::hypot(picture.width, picture.height);
    if (apart <= most) return;
    most = apart;
    where = fmt::format("{}, {} m along the wall ({} in the building)", format_fixed(at.u, 2), format_fixed(at.v, 2),
                        place_words(place));
  });
  std::string advice = "No other place of the wall would tell them apart.";
  if (most > kTellApartPx)
    advice =
        fmt::format("A point near {} would tell them apart: there they differ by {} px.", where, format_fixed(most, 0));
  return {fmt::format("{} camera places fit the points equally well: {} is taken, but it may be {}. {}",
                      cameras.size() == 2 ? "Two" : "Several", place_words(camera.eye), others, advice)};
}

namespace {

std::string kind_words(const FitReport& r) {
  std::string words = "Set by size, place and turn";
  if (r.kind == FitKind::homography) words = "Set as a flat wall seen at an angle";
  if (r.kind == FitKind::camera)
    words = r.distorted ? "Set by the camera and its lens, which bends straight lines"
                        : "Set by the camera of a photograph";
  return words + (r.thin_plate ? ", with a smooth correction." : ".");
}

std::string off_words(const PointError& e) {
  return fmt::format("{} px on the picture, {} mm on the wall", format_fixed(e.px, 1), format_fixed(e.mm, 1));
}

std::string camera_words(const Camera& c) {
  const double angle = 2 * std::atan(c.middle_px.x / c.focal_px) * 180 / std::numbers::pi;
  return fmt::format("Camera place: {}; the picture spans {} degrees across.", place_words(c.eye),
                     format_fixed(angle, 0));
}

}  // namespace

std::vector<std::string> in_words(const FitReport& r) {
  std::vector<std::string> out{kind_words(r)};
  if (r.likely) out.push_back("Likely error: " + off_words(*r.likely) + ".");
  if (r.worst) out.push_back(fmt::format("Worst: point {}, {}.", *r.worst + 1, off_words(*r.left_out[*r.worst])));
  if (r.camera < r.cameras.size()) out.push_back(camera_words(r.cameras[r.camera]));
  if (r.suspect)
    out.push_back(fmt::format("Point {} agrees with none of the others: it is likely mis-marked ({}).", *r.suspect + 1,
                              off_words(r.left_out[*r.suspect].value_or(r.fitted[*r.suspect]))));
  out.insert(out.end(), r.warnings.begin(), r.warnings.end());
  return out;
}

}  // namespace pontata
