// The triangles of every shape: how near they keep to the surface, how they turn, how they are proportioned.
#include <catch2/catch.hpp>
#include <cmath>

#include "engine/wall/shape_point.h"
#include "tests/fixtures/shapes.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

bool is_plane(const ShapeSpec& spec) { return spec.kind == ShapeKind::flat || spec.kind == ShapeKind::lunette; }

bool is_creased(const ShapeSpec& spec) {
  using enum ShapeKind;
  return spec.kind == groin || spec.kind == cloister || spec.kind == pointed_barrel;
}

// Where edges run together to nothing, thin triangles cannot be helped.
bool has_cusps(const ShapeSpec& spec) {
  return spec.kind == ShapeKind::sail || spec.kind == ShapeKind::pendentive ||
         (spec.kind == ShapeKind::groin && spec.rise == 0.5 * spec.span);
}

double worst_proportion(const SurfaceMesh& mesh) {
  double worst = 0;
  for (const auto& t : mesh.triangles) {
    const Vec3 a = mesh.points[t[0]], b = mesh.points[t[1]], c = mesh.points[t[2]];
    const double longest = std::max({glm::length(b - a), glm::length(c - b), glm::length(a - c)});
    worst = std::max(worst, longest * longest / glm::length(glm::cross(b - a, c - a)));
  }
  return worst;
}

}  // namespace

TEST_CASE("triangles stay within the tolerance of the true surface, their points on it") {
  for (const auto& spec : every_shape())
    for (const double tolerance : {0.0, 1e-3}) {
      const double limit = tolerance > 0 ? tolerance : default_tolerance(spec);
      const auto shape = tessellate(spec, {}, tolerance);
      INFO(told(spec) << ", tolerance " << tolerance);
      double worst = 0, worst_point = 0;
      for (const auto& p : shape.mesh.points) worst_point = std::max(worst_point, off_surface(spec, p));
      for (const auto& t : shape.mesh.triangles)
        for (int i = 0; i <= 4; ++i)
          for (int j = 0; i + j <= 4; ++j)
            worst = std::max(
                worst, off_surface(spec, (shape.mesh.points[t[0]] * double(i) + shape.mesh.points[t[1]] * double(j) +
                                          shape.mesh.points[t[2]] * double(4 - i - j)) /
                                             4.0));
      CHECK(worst_point < 1e-12);
      CHECK(worst <= limit * (1 + 1e-9));
      if (!is_plane(spec) && tolerance == 0) CHECK(worst > 0.3 * limit);  // not wastefully fine either
    }
}

TEST_CASE("default triangles are moderate in number and well proportioned") {
  for (const auto& spec : every_shape()) {
    const auto shape = tessellate(spec, {}, default_tolerance(spec));
    INFO(told(spec) << ", " << shape.mesh.triangles.size() << " triangles");
    CHECK(shape.mesh.triangles.size() < (spec.angle_deg == 360 ? 500000 : 100000));
    if (!has_cusps(spec)) CHECK(worst_proportion(shape.mesh) <= 8);
  }
  CHECK(tessellate(barrel_spec(4, 4, 2), {}, default_tolerance(barrel_spec(4, 4, 2))).mesh.triangles.size() < 60000);
}

TEST_CASE("normals are exact and point to the painter; triangles turn counter-clockwise in the chart and for him") {
  for (const auto& spec : every_shape()) {
    const auto shape = tessellate(spec, {}, 0);
    INFO(told(spec));
    REQUIRE(shape.address.size() == shape.mesh.points.size());
    REQUIRE(shape.mesh.corner_normals.size() == shape.mesh.triangles.size());
    for (std::size_t i = 0; i < shape.mesh.triangles.size(); ++i) {
      const Triangle &t = shape.mesh.triangles[i], &n = shape.mesh.corner_normals[i];
      const Vec2 a = shape.address[t[0]], b = shape.address[t[1]], c = shape.address[t[2]];
      REQUIRE(cross2(b - a, c - a) > 0);
      const Vec3 face = glm::normalize(glm::cross(shape.mesh.points[t[1]] - shape.mesh.points[t[0]],
                                                  shape.mesh.points[t[2]] - shape.mesh.points[t[0]]));
      const Vec3 middle = shape_point(spec, (a + b + c) / 3.0).normal;  // no triangle lies astride an arris
      for (std::size_t k = 0; k < 3; ++k) {
        REQUIRE(glm::dot(face, shape.mesh.normals[n[k]]) > 0.98);
        REQUIRE(glm::dot(middle, shape.mesh.normals[n[k]]) > 0.98);
      }
    }
    // A step along the normal leaves a smooth surface by as much, either way.
    for (std::size_t i = 0; i < shape.mesh.points.size(); i += 7) {
      REQUIRE(std::abs(glm::length(shape.mesh.normals[i]) - 1) < 1e-12);
      if (is_creased(spec)) continue;
      for (const double step : {1e-5, -1e-5})
        REQUIRE(off_surface(spec, shape.mesh.points[i] + step * shape.mesh.normals[i]) == Approx(1e-5).epsilon(2e-2));
    }
  }
}

TEST_CASE("an arris has one point and a normal for each of its webs; a smooth wall one for each point") {
  for (const auto& spec : every_shape()) {
    const auto shape = tessellate(spec, {}, 1e-3);
    INFO(told(spec));
    CHECK((shape.mesh.normals.size() > shape.mesh.points.size()) == is_creased(spec));
    if (!is_creased(spec)) CHECK(shape.mesh.corner_normals == shape.mesh.triangles);
    for (const auto& n : shape.mesh.corner_normals)
      for (const auto normal : n) REQUIRE(normal < shape.mesh.normals.size());
  }
}

TEST_CASE("both sides of the cut of a full turn are the same places, bit for bit, wherever it stands") {
  using enum ShapeKind;
  const Placement3 placement{{1.1, -7.3, 0.4}, 33};
  for (const auto& spec : every_shape()) {
    const auto wall = built(spec, 1e-3, placement);
    INFO(told(spec));
    const bool turns = spec.angle_deg == 360;
    REQUIRE(wall->chart->has_cuts() == turns);
    if (!turns) continue;
    double cut = 0;  // its length on the surface, both sides
    for (std::uint32_t e = 0; e < wall->chart->border_edges().size(); ++e) {
      if (wall->chart->across_cut(e) == Chart::kNoTriangle) continue;
      const auto& edge = wall->chart->border_edges()[e];
      const auto& t = wall->mesh().triangles[edge.triangle];
      cut += glm::length(wall->mesh().points[t[static_cast<std::size_t>((edge.side + 1) % 3)]] -
                         wall->mesh().points[t[static_cast<std::size_t>(edge.side)]]);
    }
    const double side = spec.kind == annular ? std::acos(-1.0) * (spec.outer - spec.inner) / 2
                        : spec.kind == cone  ? std::hypot(spec.height, (spec.span - spec.top_span) / 2)
                                             : spec.height;
    CHECK(cut == Approx(2 * side).epsilon(1e-3));
  }
}
