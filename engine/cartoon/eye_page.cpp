#include "engine/cartoon/eye_page.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pontata {
namespace {

constexpr double kWidest = 110, kNarrowest = 20;  // degrees
constexpr double kStep = 0.03;                    // chart m between places looked at

PictureSize pixels_of(Vec2 size) {
  return {static_cast<int>(std::lround(size.x * kEyeDots)), static_cast<int>(std::lround(size.y * kEyeDots))};
}

}  // namespace

std::optional<Vec2> EyeFrame::operator()(const Vec3& place) const {
  const auto pixel = project(camera, place);
  if (!pixel) return std::nullopt;
  return corner + Vec2{pixel->x / kEyeDots, size.y - pixel->y / kEyeDots};
}
bool EyeFrame::holds(Vec2 p) const {
  return p.x >= corner.x && p.y >= corner.y && p.x <= corner.x + size.x && p.y <= corner.y + size.y;
}

Result<EyeFrame> eye_frame(const Vec3& eye, const Vec3& look, std::span<const Vec3> places, Vec2 corner, Vec2 size) {
  const Vec3 up = std::abs(glm::normalize(look - eye).z) > 0.999 ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
  const auto widest = eye_camera(eye, look, up, kWidest, pixels_of(size));
  if (!widest) return widest.problem();
  double most = 0;
  for (const Vec3& place : places) {
    const auto pixel = project(*widest, place);
    if (!pixel) continue;
    const Vec2 off = glm::abs(*pixel - widest->middle_px) / widest->focal_px;
    most = std::max({most, off.x, off.y * size.x / size.y});
  }
  const double angle = 2 * std::atan(1.06 * most) * 180 / std::numbers::pi;
  const auto camera = eye_camera(eye, look, up, std::clamp(angle, kNarrowest, kWidest), pixels_of(size));
  if (!camera) return camera.problem();
  return EyeFrame{*camera, corner, size};
}

Outcome draw_eye_ground(Pages& pages, std::span<const SeenWall> walls, const EyeFrame& frame, double strength,
                        Progress* progress) {
  auto image = eye_view(walls, frame.camera, pixels_of(frame.size), {2, true}, progress);
  if (!image) return image.problem();
  for (auto& c : image->rgb) c = static_cast<std::uint8_t>(std::lround(255 + strength * (c - 255.0)));
  pages.picture(*image, frame.corner, frame.size);
  return Done{};
}

std::optional<Vec2> EyeDrawer::seen(ChartPoint place) const {
  const auto on = wall_->chart->locate(place);
  if (!on) return std::nullopt;
  const SurfaceMesh& mesh = wall_->mesh();
  const Vec3 at = position(mesh, *on);
  const auto p = frame_(at);
  if (!p || !frame_.holds(*p) || !sight_.sees(at, normal(mesh, *on))) return std::nullopt;
  return p;
}

void EyeDrawer::line(Vec2 a, Vec2 b, double step, std::vector<Vec2>& open, const Stroke& stroke) const {
  const int n = std::max(1, static_cast<int>(std::ceil(glm::distance(a, b) / step)));
  for (int k = open.empty() ? 0 : 1; k <= n; ++k) {
    if (const auto p = seen(to_chart(a + (b - a) * (static_cast<double>(k) / n))))
      open.push_back(*p);
    else
      flush(open, stroke);
  }
}
void EyeDrawer::flush(std::vector<Vec2>& open, const Stroke& stroke) const {
  if (open.size() > 1) pages_.path(open, false, stroke);
  open.clear();
}
void EyeDrawer::course(std::span<const ChartPoint> line, const Stroke& stroke) const {
  std::vector<Vec2> open;
  for (std::size_t i = 0; i + 1 < line.size(); ++i)
    this->line(to_vec(line[i]), to_vec(line[i + 1]), kStep, open, stroke);
  flush(open, stroke);
}
void EyeDrawer::ring(const Ring& ring, const Stroke& stroke) const {
  std::vector<ChartPoint> line;
  for (const LatticePoint& p : ring) line.push_back(to_chart(p));
  if (!line.empty()) line.push_back(line.front());
  course(line, stroke);
}

}  // namespace pontata
