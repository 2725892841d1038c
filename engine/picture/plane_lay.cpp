#include "engine/picture/plane_lay.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace pontata {

namespace {

constexpr double kWidest = 500;       // m
constexpr double kLeastShown = 0.02;  // of the wall's area
constexpr double kNoWay = 0.05;       // a mean shorter than this has no direction
constexpr double kTouch = 1e-9;       // m
constexpr const char* kWhere = "the picture's place";
const Vec3 kUpward{0, 0, 1};

// Twice the area vector of a triangle.
Vec3 doubled_area(const SurfaceMesh& mesh, const Triangle& t) {
  return glm::cross(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]);
}

// Means over the wall, weighed by area.
struct Means {
  Vec3 facing{0, 0, 0};   // of the normals
  Vec3 along_u{0, 0, 0};  // of the direction in which the chart's u grows
  double area = 0;        // m^2
};

// Where the chart's u grows in a triangle, not of unit length.
Vec3 along_u(const Chart& chart, const Triangle& t) {
  const auto& p = chart.mesh().points;
  const auto at = [&](int k) { return to_vec(to_chart(chart.places()[t[static_cast<std::size_t>(k)]])); };
  const Vec2 d1 = at(1) - at(0), d2 = at(2) - at(0);
  return ((p[t[1]] - p[t[0]]) * d2.y - (p[t[2]] - p[t[0]]) * d1.y) / cross2(d1, d2);
}

Means means_of(const Chart& chart) {
  Means out;
  for (const auto& t : chart.mesh().triangles) {
    const Vec3 area = 0.5 * doubled_area(chart.mesh(), t);
    out.facing += area;
    out.area += glm::length(area);
    out.along_u += glm::length(area) * glm::normalize(along_u(chart, t));
  }
  out.facing /= out.area;
  out.along_u /= out.area;
  return out;
}

// A direction square to `axis`; nothing where too little of it is.
std::optional<Vec3> square_to(const Vec3& axis, const Vec3& direction) {
  const Vec3 rest = direction - glm::dot(direction, axis) * axis;
  const double length = glm::length(rest);
  return length > kNoWay ? std::optional<Vec3>(rest / length) : std::nullopt;
}

struct View {
  Vec3 along, right, up;  // unit, orthogonal; along = up x right
};

Result<View> plan_view(const ChartedWall& wall, const Means& means, const WallPoint& here) {
  const Vec3 along{0, 0, means.facing.z > 0 ? -1.0 : 1.0};
  auto right = square_to(along, means.along_u);
  if (!right) right = square_to(along, glm::normalize(along_u(*wall.chart, wall.mesh().triangles[here.triangle])));
  if (!right)
    return Problem{"the wall runs straight up there, so that the plan has no left and right", kWhere,
                   "Give another place with --at, or lay it by elevation."};
  return View{along, *right, glm::cross(*right, along)};
}

Result<View> elevation_view(const ChartedWall& wall, const Means& means, const WallPoint& here) {
  auto facing = square_to(kUpward, means.facing);
  if (!facing) facing = square_to(kUpward, normal(wall.mesh(), here));
  if (!facing)
    return Problem{"the wall faces no level direction, neither on the whole nor at that place", kWhere,
                   "Give a place on the side that is to be seen with --at, or lay it by plan."};
  return View{-*facing, glm::cross(-*facing, kUpward), kUpward};
}

// What shows of the wall in a view: its extent along right and up, and its share of the wall's area.
struct Shown {
  Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
  double share = 0;
  void add(const Vec2& p) { low = glm::min(low, p), high = glm::max(high, p); }
};

Vec2 projected(const View& view, const Vec3& p) { return {glm::dot(p, view.right), glm::dot(p, view.up)}; }

// A triangle as good as seen edge-on shows nothing.
bool faces(const View& view, const Vec3& area2) { return glm::dot(area2, view.along) < -1e-6 * glm::length(area2); }

Shown shown_in(const SurfaceMesh& mesh, const View& view, double area) {
  Shown out;
  for (const auto& t : mesh.triangles) {
    const Vec3 area2 = doubled_area(mesh, t);
    if (!faces(view, area2)) continue;
    out.share -= 0.5 * glm::dot(area2, view.along) / area;
    for (const auto corner : t) out.add(projected(view, mesh.points[corner]));
  }
  return out;
}

void turn(View& view, double degrees) {
  const double a = degrees * std::numbers::pi / 180, c = std::cos(a), s = std::sin(a);
  const Vec3 right = c * view.right + s * view.up;
  view.up = c * view.up - s * view.right;
  view.right = right;
}

// Some triangle that faces the view comes to lie in the picture, judged by its box.
bool shows_some(const SurfaceMesh& mesh, const View& view, const PlaneLay& lay) {
  const Vec2 corner = projected(view, lay.corner);
  for (const auto& t : mesh.triangles) {
    if (!faces(view, doubled_area(mesh, t))) continue;
    Shown box;
    for (const auto point : t) box.add(projected(view, mesh.points[point]) - corner);
    if (box.high.x > kTouch && box.high.y > kTouch && box.low.x < lay.width - kTouch && box.low.y < lay.height - kTouch)
      return true;
  }
  return false;
}

Outcome check(PictureSize picture, ChartPoint at, double width_m, double turn_deg) {
  if (!std::isfinite(at.u) || !std::isfinite(at.v) || !std::isfinite(turn_deg) || !fits_lattice(at))
    return Problem{"the place or the turn is not a usable number", kWhere,
                   "Give the lower left corner as two lengths."};
  if (!std::isfinite(width_m) || width_m < 0 || width_m > kWidest)
    return Problem{fmt::format("a width of {} m cannot be", width_m), kWhere, "Give a width above 0 and up to 500 m."};
  if (picture.width < 1 || picture.height < 1)
    return Problem{"the picture is empty", kWhere, "Choose another picture."};
  return Done{};
}

Problem does_not_show(bool plan, double share) {
  return {fmt::format("the wall hardly shows in {}: {:.1f} % of its area", plan ? "plan" : "elevation", 100 * share),
          kWhere, plan ? "Lay the picture by elevation or unrolled." : "Lay the picture by plan or unrolled."};
}

}  // namespace

Vec3 looks_along(const PlaneLay& lay) { return glm::cross(lay.up, lay.right); }

Result<PlaneLay> place_by_plane(const ChartedWall& wall, PictureSize picture, bool plan, ChartPoint at, double width_m,
                                double turn_deg) {
  if (auto sound = check(picture, at, width_m, turn_deg); !sound) return sound.problem();
  const auto here = wall.chart->locate(wall.chart->clamp(at));
  if (!here) return Problem{"that place is not on the wall", kWhere, "Give a place on the wall."};
  const Means means = means_of(*wall.chart);
  auto found = plan ? plan_view(wall, means, *here) : elevation_view(wall, means, *here);
  if (!found) return found.problem();
  View view = *found;
  const double share = shown_in(wall.mesh(), view, means.area).share;
  if (share < kLeastShown) return does_not_show(plan, share);
  turn(view, turn_deg);
  PlaneLay lay{position(wall.mesh(), *here), view.right, view.up, width_m, 0};
  if (width_m <= 0) {
    const Shown shown = shown_in(wall.mesh(), view, means.area);
    const Vec2 shift = shown.low - projected(view, lay.corner);
    lay.corner += shift.x * view.right + shift.y * view.up;
    lay.width = shown.high.x - shown.low.x;
  }
  lay.height = lay.width * picture.height / picture.width;
  if (!shows_some(wall.mesh(), view, lay))
    return Problem{"the picture would lie beside what shows of the wall", kWhere,
                   "Place its corner so that some of it falls on the wall."};
  return lay;
}

}  // namespace pontata
