#include "editor/view/camera.h"

#include <algorithm>
#include <cmath>
#include <glm/gtc/matrix_transform.hpp>

namespace pontata {
namespace {

constexpr double kSteepest = 1.553;  // radians, 89 degrees: looking straight up keeps a right hand

double focal_px(double angle, ViewSize size) { return 0.5 * std::min(size.width, size.height) / std::tan(angle / 2); }

void look_along(OrbitCamera& camera, const Vec3& direction) {
  const Vec3 d = glm::normalize(direction);
  if (std::hypot(d.x, d.y) > 1e-6) camera.yaw = std::atan2(-d.x, d.y);
  camera.pitch = std::clamp(std::asin(std::clamp(d.z, -1.0, 1.0)), -kSteepest, kSteepest);
}

// Twice the sum of the triangles' areas times their facing directions.
Vec3 facing_sum(std::span<const WallRef> walls) {
  Vec3 sum{0, 0, 0};
  for (const WallRef& wall : walls)
    for (const Triangle& t : wall->mesh().triangles) {
      const auto& points = wall->mesh().points;
      sum += glm::cross(points[t[1]] - points[t[0]], points[t[2]] - points[t[0]]);
    }
  return sum;
}

// The horizontal direction along which the surfaces turn least: down the length of a barrel. Smallest axis of the
// spread of the triangles' facing directions.
Vec3 straightest_way(std::span<const WallRef> walls) {
  double xx = 0, xy = 0, yy = 0;
  for (const WallRef& wall : walls)
    for (const Triangle& t : wall->mesh().triangles) {
      const auto& points = wall->mesh().points;
      const Vec3 n = glm::cross(points[t[1]] - points[t[0]], points[t[2]] - points[t[0]]);
      const double area = glm::length(n);
      if (area < 1e-15) continue;
      xx += n.x * n.x / area;
      xy += n.x * n.y / area;
      yy += n.y * n.y / area;
    }
  const double angle = 0.5 * std::atan2(2 * xy, xx - yy) + 1.5707963267948966;
  const Vec3 way{std::cos(angle), std::sin(angle), 0};
  return way.x + way.y < 0 ? -way : way;
}

Vec3 first_direction(std::span<const WallRef> walls) {
  const Vec3 sum = facing_sum(walls);
  const double length = glm::length(sum);
  const Vec3 toward_wall = length > 1e-9 ? -sum / length : Vec3{0, 1, 0};
  const Vec3 level{toward_wall.x, toward_wall.y, 0};
  if (walls.size() > 1 && glm::length(level) > 0.25)  // a room open to one side: in through there, toward its end
    return glm::normalize(glm::normalize(level) + Vec3{0, 0, 0.22});
  if (toward_wall.z > 0.5)  // a vault or dome: from below, leaning down its length
    return glm::normalize(Vec3{0, 0, 0.66} + straightest_way(walls) * 0.75 + 0.2 * level);
  return glm::normalize(toward_wall + Vec3{0.18 * -toward_wall.y, 0.18 * toward_wall.x, 0.06});
}

// Some 2000 points of each wall, evenly by number.
std::vector<Vec3> outline_points(std::span<const WallRef> walls) {
  std::vector<Vec3> out;
  for (const WallRef& wall : walls) {
    const auto& points = wall->mesh().points;
    const std::size_t stride = std::max<std::size_t>(1, points.size() / 2000);
    for (std::size_t i = 0; i < points.size(); i += stride) out.push_back(points[i]);
  }
  return out;
}

}  // namespace

Vec2 FlatCamera::to_px(ChartPoint p, ViewSize size) const {
  return {size.width / 2 + (p.u - centre.x) * metre_px, size.height / 2 - (p.v - centre.y) * metre_px};
}
ChartPoint FlatCamera::from_px(Vec2 px, ViewSize size) const {
  return {centre.x + (px.x - size.width / 2) / metre_px, centre.y - (px.y - size.height / 2) / metre_px};
}
void FlatCamera::pan(Vec2 moved_px) { centre += Vec2{-moved_px.x, moved_px.y} / metre_px; }
void FlatCamera::zoom(double factor, Vec2 at_px, ViewSize size) {
  const ChartPoint kept = from_px(at_px, size);
  metre_px = std::clamp(metre_px * factor, 1.0, 2e5);
  const ChartPoint now = from_px(at_px, size);
  centre += to_vec(kept) - to_vec(now);
}
glm::mat4 FlatCamera::clip(ViewSize size) const {
  const double half_w = size.width / 2 / metre_px, half_h = size.height / 2 / metre_px;
  return glm::mat4(glm::ortho(centre.x - half_w, centre.x + half_w, centre.y - half_h, centre.y + half_h, -1.0, 1.0));
}
FlatCamera flat_fit(ChartBox box, ViewSize size) {
  FlatCamera camera;
  camera.centre = {box.width / 2, box.height / 2};
  camera.metre_px = 0.92 * std::min(size.width / std::max(box.width, 1e-3), size.height / std::max(box.height, 1e-3));
  return camera;
}

Vec3 OrbitCamera::forward() const {
  return {-std::sin(yaw) * std::cos(pitch), std::cos(yaw) * std::cos(pitch), std::sin(pitch)};
}
Vec3 OrbitCamera::right() const { return {std::cos(yaw), std::sin(yaw), 0}; }
Vec3 OrbitCamera::up() const { return glm::cross(right(), forward()); }

OrbitCamera::Ray OrbitCamera::ray(Vec2 px, ViewSize size) const {
  const double f = focal_px(angle, size);
  const Vec3 d = forward() * f + right() * (px.x - size.width / 2) - up() * (px.y - size.height / 2);
  return {eye, glm::normalize(d)};
}
std::optional<Vec2> OrbitCamera::to_px(const Vec3& place, ViewSize size) const {
  const Vec3 d = place - eye;
  const double depth = glm::dot(d, forward());
  if (depth < 1e-6) return std::nullopt;
  const double f = focal_px(angle, size);
  return Vec2{size.width / 2 + f * glm::dot(d, right()) / depth, size.height / 2 - f * glm::dot(d, up()) / depth};
}
double OrbitCamera::metre_px(const Vec3& place, ViewSize size) const {
  return focal_px(angle, size) / std::max(glm::dot(place - eye, forward()), 1e-3);
}

void OrbitCamera::orbit(Vec2 moved_px, const Vec3& pivot, ViewSize size) {
  const double per_px = 3.14159 / std::max(size.width, size.height);
  const Vec3 d = pivot - eye;
  const double along = glm::dot(d, forward()), aside = glm::dot(d, right()), above = glm::dot(d, up());
  yaw -= moved_px.x * per_px;
  pitch = std::clamp(pitch - moved_px.y * per_px, -kSteepest, kSteepest);
  eye = pivot - along * forward() - aside * right() - above * up();
}
void OrbitCamera::pan(Vec2 moved_px, const Vec3& pivot, ViewSize size) {
  const double metre = metre_px(pivot, size);
  eye += (-right() * moved_px.x + up() * moved_px.y) / metre;
}
void OrbitCamera::zoom(double factor, const Vec3& toward) {
  const Vec3 d = eye - toward;
  const double distance = glm::length(d);
  if (distance < 1e-6) return;
  eye = toward + d * (std::clamp(distance / factor, 0.03, 2000.0) / distance);
}
glm::mat4 OrbitCamera::clip(ViewSize size, const Vec3& origin) const {
  const double aspect = size.width / size.height;
  const double tall = 2 * std::atan(0.5 * size.height / focal_px(angle, size));
  const glm::dmat4 view = glm::lookAt(eye - origin, eye - origin + forward(), up());
  return glm::mat4(glm::perspective(tall, aspect, near, far) * view);
}
void OrbitCamera::enclose(const Vec3& centre, double radius) {
  const double distance = glm::length(centre - eye);
  far = distance + 1.05 * radius + 0.1;
  near = std::max({distance - 1.05 * radius, far * 2e-4, 0.01});
}

Ball enclosing_ball(const SurfaceMesh& mesh) {
  Vec3 lo{1e300, 1e300, 1e300}, hi{-1e300, -1e300, -1e300};
  for (const Vec3& p : mesh.points) {
    lo = glm::min(lo, p);
    hi = glm::max(hi, p);
  }
  return {(lo + hi) / 2.0, std::max(glm::length(hi - lo) / 2, 1e-3)};
}

Ball enclosing_ball(std::span<const Ball> balls) {
  if (balls.empty()) return {};
  Vec3 lo{1e300, 1e300, 1e300}, hi{-1e300, -1e300, -1e300};
  for (const Ball& ball : balls) {
    lo = glm::min(lo, ball.centre - ball.radius);
    hi = glm::max(hi, ball.centre + ball.radius);
  }
  Ball all{(lo + hi) / 2.0, 0};
  for (const Ball& ball : balls) all.radius = std::max(all.radius, glm::length(ball.centre - all.centre) + ball.radius);
  return all;
}

OrbitCamera first_view(const ChartedWall& wall, ViewSize size) {
  const WallRef borrowed(WallRef(), &wall);  // owns nothing
  return first_view(std::span(&borrowed, 1), size);
}

OrbitCamera first_view(std::span<const WallRef> walls, ViewSize size) {
  std::vector<Ball> balls;
  for (const WallRef& wall : walls) balls.push_back(enclosing_ball(wall->mesh()));
  const Ball ball = enclosing_ball(balls);
  const std::vector<Vec3> points = outline_points(walls);
  OrbitCamera camera;
  look_along(camera, first_direction(walls));
  camera.eye = ball.centre - camera.forward() * (ball.radius / std::sin(camera.angle / 2));
  // Nearer until the walls fill the view: the ball is a generous bound.
  for (int step = 0; step < 24; ++step) {
    OrbitCamera nearer = camera;
    nearer.eye += nearer.forward() * (0.05 * glm::length(ball.centre - camera.eye));
    const bool inside = std::all_of(points.begin(), points.end(), [&](const Vec3& p) {
      const auto px = nearer.to_px(p, size);
      return px && px->x > 0.04 * size.width && px->x < 0.96 * size.width && px->y > 0.04 * size.height &&
             px->y < 0.96 * size.height;
    });
    if (!inside) break;
    camera = nearer;
  }
  camera.enclose(ball.centre, ball.radius);
  return camera;
}

OrbitCamera view_of(const ChartedWall& wall, ChartPoint place, double distance, const OrbitCamera& from) {
  const auto at = wall.chart->locate(place);
  if (!at) return from;
  OrbitCamera camera = from;
  const Vec3 facing = normal(wall.mesh(), *at);
  look_along(camera, -facing);
  camera.eye = position(wall.mesh(), *at) - camera.forward() * distance;
  const Ball ball = enclosing_ball(wall.mesh());
  camera.enclose(ball.centre, ball.radius);
  return camera;
}

std::optional<SeenPlace> seen_place(const ChartedWall& wall, const OrbitCamera::Ray& ray) {
  double travelled = 0;
  for (int tries = 0; tries < 16; ++tries) {
    const auto hit = wall.pick.cast(ray.origin + ray.direction * travelled, ray.direction);
    if (!hit) return std::nullopt;
    const Triangle& t = wall.mesh().triangles[hit->point.triangle];
    const auto& points = wall.mesh().points;
    const Vec3 facing = glm::cross(points[t[1]] - points[t[0]], points[t[2]] - points[t[0]]);
    travelled += hit->distance;
    if (glm::dot(facing, ray.direction) < 0)
      return SeenPlace{ray.origin + ray.direction * travelled, wall.chart->address(hit->point), travelled};
    travelled += 1e-6 + 1e-7 * travelled;
  }
  return std::nullopt;
}

std::optional<SeenOnWall> seen_place(std::span<const WallRef> walls, const OrbitCamera::Ray& ray) {
  std::optional<SeenOnWall> nearest;
  for (std::size_t i = 0; i < walls.size(); ++i) {
    const auto seen = seen_place(*walls[i], ray);
    if (seen && (!nearest || seen->distance < nearest->seen.distance)) nearest = SeenOnWall{i, *seen};
  }
  return nearest;
}

}  // namespace pontata
