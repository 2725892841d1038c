#include <cmath>

#include "engine/review/rules.h"

namespace pontata {

namespace {

constexpr double kLevel = 1e-6;

// Chart step of a tangent vector on the triangle with sides e1, e2 and their chart images c1, c2.
Vec2 chart_step(const Vec3& tangent, const Vec3& e1, const Vec3& e2, const Vec2& c1, const Vec2& c2) {
  const double a = glm::dot(e1, e1), b = glm::dot(e1, e2), d = glm::dot(e2, e2);
  const double p = glm::dot(tangent, e1), q = glm::dot(tangent, e2);
  const double det = a * d - b * b;
  return (p * d - q * b) / det * c1 + (q * a - p * b) / det * c2;
}

}  // namespace

bool Fall::drops() const { return overhangs && sine < kDropsBelow; }

std::optional<Fall> fall_at(const ChartedWall& wall, ChartPoint p) {
  const auto point = wall.chart->locate(p);
  if (!point) return std::nullopt;
  const SurfaceMesh& mesh = wall.mesh();
  const Triangle& t = mesh.triangles[point->triangle];
  const auto& places = wall.chart->places();
  const Vec3 e1 = mesh.points[t[1]] - mesh.points[t[0]], e2 = mesh.points[t[2]] - mesh.points[t[0]];
  const Vec2 origin = to_vec(to_chart(places[t[0]]));
  const Vec2 c1 = to_vec(to_chart(places[t[1]])) - origin, c2 = to_vec(to_chart(places[t[2]])) - origin;
  Fall fall;
  fall.triangle = point->triangle;
  fall.position = position(mesh, *point);
  fall.normal = normal(mesh, *point);  // smoothed for a scan, whose grain turns no water
  fall.overhangs = fall.normal.z < 0;
  const Vec3 downhill = fall.normal.z * fall.normal - Vec3(0, 0, 1);
  fall.sine = glm::length(downhill);
  if (fall.sine < kLevel) return fall;
  const Vec3 down = downhill / fall.sine;
  fall.down = chart_step(down, e1, e2, c1, c2);
  fall.level = chart_step(glm::cross(fall.normal, down), e1, e2, c1, c2);
  return fall;
}

}  // namespace pontata
