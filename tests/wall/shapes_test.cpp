#include "engine/wall/shapes.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <random>

#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

std::vector<ShapeSpec> some_shapes() {
  return {flat_spec(3, 2), barrel_spec(4, 6, 2), barrel_spec(5, 3, 0.8), barrel_spec(4, 6, 0.05), dome_spec(6, 3),
          dome_spec(6, 1), dome_spec(2, 0.02),   apse_spec(4, 3),        apse_spec(0.5, 0.2)};
}

// Distance of an own-frame place from the true surface, from its implicit equation.
double off_surface(const ShapeSpec& spec, const Vec3& p) {
  const double a = spec.span / 2;
  const double radius = (a * a + spec.rise * spec.rise) / (2 * spec.rise);
  switch (spec.kind) {
    case ShapeKind::flat:
      return std::abs(p.y);
    case ShapeKind::barrel:
      return std::abs(std::hypot(p.y, p.z - (spec.rise - radius)) - radius);
    case ShapeKind::dome:
      return std::abs(std::hypot(p.x, p.y, p.z - (spec.rise - radius)) - radius);
    case ShapeKind::apse:
      return std::abs(std::hypot(p.x, p.y, std::max(0.0, p.z - spec.height)) - a);
    default:
      break;
  }
  return 1;
}

double mesh_area(const SurfaceMesh& mesh) {
  double sum = 0;
  for (const auto& t : mesh.triangles)
    sum += 0.5 * glm::length(glm::cross(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]));
  return sum;
}

}  // namespace

TEST_CASE("triangles stay within the tolerance of the true surface, their points on it") {
  for (const auto& spec : some_shapes())
    for (const double tolerance : {0.0, 1e-3}) {
      const double limit = tolerance > 0 ? tolerance : default_tolerance(spec);
      const auto shape = tessellate(spec, {}, tolerance);
      CAPTURE(shape_name(spec.kind), spec.span, spec.rise, tolerance);
      double worst = 0, worst_point = 0;
      for (const auto& p : shape.mesh.points) worst_point = std::max(worst_point, off_surface(spec, p));
      for (const auto& t : shape.mesh.triangles)
        for (int i = 0; i <= 6; ++i)
          for (int j = 0; i + j <= 6; ++j)
            worst = std::max(
                worst, off_surface(spec, (shape.mesh.points[t[0]] * double(i) + shape.mesh.points[t[1]] * double(j) +
                                          shape.mesh.points[t[2]] * double(6 - i - j)) /
                                             6.0));
      CHECK(worst_point < 1e-12);
      CHECK(worst <= limit * (1 + 1e-9));
      if (spec.kind != ShapeKind::flat && tolerance == 0) CHECK(worst > 0.3 * limit);  // not wastefully fine either
    }
}

TEST_CASE("default triangles are moderate in number and well proportioned") {
  for (const auto& spec : some_shapes()) {
    const auto shape = tessellate(spec, {}, default_tolerance(spec));
    CAPTURE(shape_name(spec.kind), spec.span, spec.rise, shape.mesh.triangles.size());
    CHECK(shape.mesh.triangles.size() < 100000);
    double worst = 0;
    for (const auto& t : shape.mesh.triangles) {
      const Vec3 a = shape.mesh.points[t[0]], b = shape.mesh.points[t[1]], c = shape.mesh.points[t[2]];
      const double longest = std::max({glm::length(b - a), glm::length(c - b), glm::length(a - c)});
      worst = std::max(worst, longest * longest / glm::length(glm::cross(b - a, c - a)));
    }
    CHECK(worst <= 8);
  }
  CHECK(tessellate(barrel_spec(4, 4, 2), {}, default_tolerance(barrel_spec(4, 4, 2))).mesh.triangles.size() < 60000);
}

TEST_CASE("area error falls in proportion to the tolerance") {
  for (const auto& spec : {barrel_spec(4, 6, 2), barrel_spec(5, 3, 0.8), dome_spec(6, 3), dome_spec(6, 1),
                           dome_spec(4, 0.1), apse_spec(4, 3)}) {
    CAPTURE(shape_name(spec.kind), spec.span, spec.rise);
    const double exact = closed_form_area(spec);
    const auto error = [&](double tolerance) { return 1 - mesh_area(tessellate(spec, {}, tolerance).mesh) / exact; };
    CHECK(std::abs(error(default_tolerance(spec))) < 1e-4);
    const double coarse = error(4e-3), fine = error(4e-3 / 32);  // five octaves
    CHECK(coarse > 0);
    CHECK(std::log2(coarse / fine) / 5 == Approx(1).margin(0.1));
  }
}

TEST_CASE(
    "normals are exact, point to the painter, and triangles turn counter-clockwise in the chart and for the painter") {
  for (const auto& spec : some_shapes()) {
    const auto shape = tessellate(spec, {}, 0);
    CAPTURE(shape_name(spec.kind), spec.span, spec.rise);
    REQUIRE(shape.address.size() == shape.mesh.points.size());
    for (const auto& t : shape.mesh.triangles) {
      const Vec2 a = shape.address[t[0]], b = shape.address[t[1]], c = shape.address[t[2]];
      REQUIRE(cross2(b - a, c - a) > 0);
      const Vec3 face = glm::normalize(glm::cross(shape.mesh.points[t[1]] - shape.mesh.points[t[0]],
                                                  shape.mesh.points[t[2]] - shape.mesh.points[t[0]]));
      for (const auto corner : t) REQUIRE(glm::dot(face, shape.mesh.normals[corner]) > 0.98);
    }
    for (const auto& n : shape.mesh.normals) REQUIRE(std::abs(glm::length(n) - 1) < 1e-12);
    for (std::size_t i = 0; i < shape.mesh.points.size();
         ++i)  // a step toward the painter leaves the wall by that much
      if (spec.kind != ShapeKind::flat) {
        const double r = spec.kind == ShapeKind::apse
                             ? spec.span / 2
                             : (spec.span * spec.span / 4 + spec.rise * spec.rise) / (2 * spec.rise);
        REQUIRE(std::abs(off_surface(spec, shape.mesh.points[i] + 0.1 * r * shape.mesh.normals[i]) - 0.1 * r) < 1e-9);
      }
  }
}

TEST_CASE("charts follow the table of shapes") {
  const auto at = [](const WallRef& wall, double u, double v) { return wall->position({u, v}).value(); };
  const auto near = [](const Vec3& p, const Vec3& q) { return glm::length(p - q) < 2e-4; };
  const auto flat = flat_wall(3, 2);
  CHECK(near(at(flat, 1, 0.5), {1, 0, 0.5}));
  const auto barrel = barrel_wall(4, 6, 2);  // u along the axis, v from the springing at y = +2 over the crown
  CHECK(near(at(barrel, 1, 0), {1, 2, 0}));
  CHECK(near(at(barrel, 1, kPi), {1, 0, 2}));
  CHECK(near(at(barrel, 5, 2 * kPi), {5, -2, 0}));
  const auto dome = dome_wall(6, 3);
  const double c = 1.5 * kPi;  // centre
  CHECK(near(at(dome, c, c), {0, 0, 3}));
  CHECK(near(at(dome, 2 * c, c), {3, 0, 0}));
  CHECK(near(at(dome, c, 2 * c), {0, -3, 0}));  // phi = -90 degrees is up: seen from below
  CHECK(near(at(dome, c + c / 2, c), {3 * std::sin(kPi / 4), 0, 3 * std::cos(kPi / 4)}));
  const auto apse = apse_wall(4, 3);
  CHECK(near(at(apse, 0, 1), {-2, 0, 1}));
  CHECK(near(at(apse, kPi, 1), {0, 2, 1}));
  CHECK(near(at(apse, kPi, 3 + kPi), {0, 0, 5}));
  const double theta = kPi / 3, phi = kPi / 4;
  CHECK(near(at(apse, kPi + 2 * std::cos(theta) * (phi - kPi / 2), 3 + 2 * theta),
             {-2 * std::cos(theta) * std::cos(phi), 2 * std::cos(theta) * std::sin(phi), 3 + 2 * std::sin(theta)}));
}

TEST_CASE("placement turns about the vertical and moves") {
  const Placement3 placement{{10, -4, 2}, 90};
  const Vec3 p = apply(placement, {1, 0, 3});
  CHECK(glm::length(p - Vec3{10, -3, 5}) < 1e-12);
  CHECK(glm::length(apply_direction(placement, {0, 1, 0}) - Vec3{-1, 0, 0}) < 1e-12);
}

TEST_CASE("shapes are named, and unknown names list the known ones") {
  for (const auto kind : {ShapeKind::flat, ShapeKind::barrel, ShapeKind::dome, ShapeKind::apse})
    CHECK(shape_named(shape_name(kind)).value() == kind);
  const auto unknown = shape_named("tent");
  REQUIRE_FALSE(unknown.ok());
  CHECK(unknown.problem().message().find("flat, barrel, elliptical-barrel, pointed-barrel, groin, cloister") !=
        std::string::npos);
  CHECK(measures_of(ShapeKind::barrel) == std::vector<std::string_view>{"span", "length", "rise"});
}

TEST_CASE("impossible measures are refused by name") {
  CHECK(validate(barrel_spec(4, 6, 2)).ok());
  for (const auto& bad :
       {barrel_spec(4, 6, 2.1), barrel_spec(4, -6, 2), barrel_spec(4, 6, 0), barrel_spec(std::nan(""), 6, 2),
        dome_spec(600, 10), dome_spec(4, 3), flat_spec(INFINITY, 2), apse_spec(4, 0), flat_spec(1e-6, 1)})
    CHECK_FALSE(validate(bad).ok());
  CHECK(validate(barrel_spec(4, 6, 2.1)).problem().where == "barrel rise");
  const auto wall = build_wall(barrel_spec(4, 6, 2.1), {}, "vault");
  REQUIRE_FALSE(wall.ok());
  CHECK(wall.problem().message().find("vault, barrel rise") == 0);
}

TEST_CASE("walls beyond any building stay within two million triangles or so, and their charts are sound") {
  for (const auto& spec :
       {flat_spec(500, 0.001), barrel_spec(0.1, 500, 0.05), barrel_spec(500, 0.01, 250), barrel_spec(4, 6, 0.001),
        apse_spec(0.1, 500), dome_spec(0.002, 0.001), dome_spec(500, 0.001)}) {
    REQUIRE(validate(spec).ok());
    CAPTURE(shape_name(spec.kind), spec.span, spec.length, spec.rise);
    auto shape = tessellate(spec, {}, default_tolerance(spec));
    CHECK(shape.mesh.triangles.size() < 2.2e6);
    const auto mesh = std::make_shared<const SurfaceMesh>(std::move(shape.mesh));
    const auto chart = Chart::certify(mesh, shape.address, "extreme");
    if (!chart) FAIL_CHECK(chart.problem().message());
    CHECK(mesh_area(*mesh) == Approx(closed_form_area(spec)).epsilon(1e-4));
  }
  const auto huge = dome_spec(500, 250);
  CHECK(2 * closed_form_area(huge) / (4 * 250 * default_tolerance(huge)) < 2.1e6);
}
