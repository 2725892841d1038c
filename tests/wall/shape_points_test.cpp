// Charts of every shape: places by the table of shapes, the exact surface behind them, and the map's soundness.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/wall/shape_point.h"
#include "engine/wall/shape_sketch.h"
#include "tests/fixtures/shapes.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;
using enum ShapeKind;

namespace {

constexpr double kPi = std::numbers::pi;
const double kRoot2 = std::sqrt(2.0);

// By the table "Shapes and their charts" of DEVELOPERS.md, worked out by hand. The exact surface to rounding; the
// wall's triangles to their tolerance, doubled for the way along them; and back from the place to the chart.
void check(const ShapeSpec& spec, Vec2 chart, Vec3 place) {
  INFO(told(spec) << " at u " << chart.x << ", v " << chart.y);
  CHECK(glm::length(shape_point(spec, chart).place - place) < 1e-12);
  const auto wall = built(spec);
  const auto there = wall->position({chart.x, chart.y});
  REQUIRE(there.has_value());
  CHECK(glm::length(*there - place) < 2 * default_tolerance(spec));
  const auto back = wall->address(place);
  CHECK(std::hypot(back.place.u - chart.x, back.place.v - chart.y) < 2e-3);
}

}  // namespace

TEST_CASE("flat walls and barrels follow the table of shapes") {
  check(flat_spec(3, 2), {1, 0.5}, {1, 0, 0.5});
  check({.kind = lunette, .span = 4, .rise = 2}, {2, 1.5}, {2, 0, 1.5});
  const auto barrel = barrel_spec(4, 6, 2);  // u along the axis, v from the springing at y = +2 over the crown
  check(barrel, {1, 0}, {1, 2, 0});
  check(barrel, {1, kPi / 3}, {1, std::sqrt(3.0), 1});
  check(barrel, {1, kPi}, {1, 0, 2});
  check(barrel, {5, 2 * kPi}, {5, -2, 0});
  const ShapeSpec pointed{.kind = pointed_barrel, .span = 4, .length = 6, .radius = 4};
  check(pointed, {1, 4 * kPi / 6}, {1, 4 * std::cos(kPi / 6) - 2, 2});
  check(pointed, {1, 4 * kPi / 3}, {1, 0, 2 * std::sqrt(3.0)});
  check(pointed, {2, 8 * kPi / 3 - 4 * kPi / 6}, {2, 2 - 4 * std::cos(kPi / 6), 2});
  // Semi-axes 2 and 1: 4.844224110 over the whole (complete elliptic integral).
  const ShapeSpec ellipse{.kind = elliptical_barrel, .span = 4, .length = 6, .rise = 1};
  check(ellipse, {3, 4.8442241102738381 / 2}, {3, 0, 1});
  check(ellipse, {3, 4.8442241102738381}, {3, -2, 0});
}

TEST_CASE("groin and cloister follow the table of shapes") {
  const ShapeSpec vault{.kind = groin, .span = 4, .length = 6, .rise = 2};  // plan 6 along x by 4 along y
  check(vault, {3, 2}, {0, 0, 2});
  check(vault, {3 + 1.5, 2 - 0.5}, {1.5, 0.5, 2 * std::sqrt(1 - 1.0 / 16)});        // |y|/2 < |x|/3: over the span
  check(vault, {3 - 0.75, 2 + 1.75}, {-0.75, -1.75, 2 * std::sqrt(1 - 1.0 / 16)});  // over the length
  check(vault, {3 + 1.5, 2 - 1}, {1.5, 1, std::sqrt(3.0)});                         // on the arris
  const ShapeSpec square{.kind = cloister, .span = 4, .length = 4, .rise = 2};
  // d = max(|x|, |y|) / 2, s(d) = 2 asin d; (x, -y) / 2 scaled by s(d) / d about the centre (pi, pi).
  const double d = 0.5, s = 2 * kPi / 6;
  check(square, {kPi + s, kPi - 0.25 / d * s}, {1, 0.5, std::sqrt(3.0)});
  check(square, {kPi - 0.25 / d * s, kPi + s}, {-0.5, -1, std::sqrt(3.0)});
  check(square, {kPi, kPi}, {0, 0, 2});
  check(square, {2 * kPi, kPi / 2}, {2, 1, 0});
  // Oblong: arcs of the web over the length are those of an ellipse with semi-axes 4 and 2, whole half 4.844224110.
  const ShapeSpec oblong{.kind = cloister, .span = 4, .length = 8, .rise = 2};
  check(oblong, {2 * 4.8442241102738381, kPi / 2}, {4, 1, 0});
  check(oblong, {4.8442241102738381, 0}, {0, 2, 0});
}

TEST_CASE("pieces of spheres follow the table of shapes") {
  const auto dome = dome_spec(6, 3);
  const double c = 1.5 * kPi;  // centre
  check(dome, {c, c}, {0, 0, 3});
  check(dome, {2 * c, c}, {3, 0, 0});
  check(dome, {c, 2 * c}, {0, -3, 0});  // phi = -90 degrees is up: seen from below
  check(dome, {c + c / 2, c}, {3 * std::sin(kPi / 4), 0, 3 * std::cos(kPi / 4)});
  // Sail over a square of side 4: R = 2 sqrt 2, its corner at the end of a quarter circle.
  const ShapeSpec sail_of_4{.kind = sail, .side = 4};
  const double corner = 2 * kRoot2 * kPi / 2 / kRoot2, middle = 2 * kRoot2 * kPi / 4;
  check(sail_of_4, {corner, corner}, {0, 0, 2 * kRoot2});
  check(sail_of_4, {corner + middle, corner}, {2, 0, 2});
  check(sail_of_4, {corner, corner - middle}, {0, 2, 2});
  check(sail_of_4, {2 * corner, 0}, {2, 2, 0});
  const ShapeSpec one{.kind = pendentive, .side = 4};
  const double s = 2 * kRoot2 * kPi / 3;  // 60 degrees from the crown, over the diagonal
  check(one, {s / kRoot2, corner - s / kRoot2}, {std::sqrt(3.0), std::sqrt(3.0), kRoot2});
  check(one, {corner, 0}, {2, 2, 0});
  const auto apse = apse_spec(4, 3);
  check(apse, {0, 1}, {-2, 0, 1});
  check(apse, {kPi, 1}, {0, 2, 1});
  check(apse, {kPi, 3 + kPi}, {0, 0, 5});
  const double theta = kPi / 3, phi = kPi / 4;
  check(apse, {kPi + 2 * std::cos(theta) * (phi - kPi / 2), 3 + 2 * theta},
        {-2 * std::cos(theta) * std::cos(phi), 2 * std::cos(theta) * std::sin(phi), 3 + 2 * std::sin(theta)});
}

TEST_CASE("walls that turn follow the table of shapes") {
  const ShapeSpec round{.kind = drum, .height = 3, .span = 4, .angle_deg = 360};
  check(round, {kPi / 3, 1}, {-std::sqrt(3.0), 1, 1});
  check(round, {kPi, 1}, {0, 2, 1});
  check(round, {3 * kPi, 2}, {0, -2, 2});
  // Slope 4 with radii 2 and 1: apex 8 above the foot, share of a turn a quarter; half a turn is 45 degrees when laid
  // flat, 22.5 to each side of the vertical.
  const double h = std::sqrt(15.0), apart = kPi / 8;
  const ShapeSpec narrowing{.kind = cone, .height = h, .span = 4, .top_span = 2, .angle_deg = 180};
  const double left = 8 * std::sin(apart);
  check(narrowing, {left, 1}, {0, 1.75, h / 4});
  check(narrowing, {left, 3}, {0, 1.25, 3 * h / 4});
  check(narrowing, {0, 8 - 8 * std::cos(apart)}, {-2, 0, 0});
  check(narrowing, {left + 4 * std::sin(apart), 8 - 4 * std::cos(apart)}, {1, 0, h});
  const ShapeSpec widening{.kind = cone, .height = h, .span = 2, .top_span = 4, .angle_deg = 180};
  const double low = 4 - 4 * std::cos(apart);  // the apex below: the middle of the foot stands above its ends
  check(widening, {left, low + 1}, {0, 1.25, h / 4});
  check(widening, {left, low + 3}, {0, 1.75, 3 * h / 4});
  check(widening, {left - 4 * std::sin(apart), 0}, {-1, 0, 0});
  // Annular, radii 3 and 7: u on the mean radius 5, v from the outer springing, to the left of who walks along u.
  const ShapeSpec ring{.kind = annular, .inner = 3, .outer = 7, .angle_deg = 180};
  check(ring, {5 * kPi / 2, 0}, {0, 7, 0});
  check(ring, {5 * kPi / 2, kPi}, {0, 5, 2});
  check(ring, {5 * kPi / 2, 2 * kPi}, {0, 3, 0});
  check(ring, {0, 2 * kPi / 3}, {-6, 0, std::sqrt(3.0)});
}

TEST_CASE("points of the triangles are those of the exact surface at their chart places") {
  for (const auto& spec : every_shape()) {
    const auto shape = tessellate(spec, {}, 1e-3);
    INFO(told(spec));
    for (std::size_t i = 0; i < shape.address.size(); ++i) {
      const auto exact = shape_point(spec, shape.address[i]);
      REQUIRE(glm::length(exact.place - shape.mesh.points[i]) < 1e-12);
      REQUIRE(std::abs(glm::length(exact.normal) - 1) < 1e-14);
    }
  }
}

TEST_CASE("a step to the right and a step up in the chart turn toward the painter on the exact surface") {
  Random random(5);
  for (const auto kind : all_shapes())
    for (int i = 0; i < 6; ++i) {
      const auto spec = random_shape(kind, random);
      const auto shape = tessellate(spec, {}, 20 * default_tolerance(spec));
      INFO(told(spec));
      for (int j = 0; j < 30; ++j) {
        const auto& t = shape.mesh.triangles[random.below(shape.mesh.triangles.size())];
        const Vec2 at = (shape.address[t[0]] + shape.address[t[1]] + shape.address[t[2]]) / 3.0;
        const double h = 1e-7;
        const auto p = shape_point(spec, at);
        const Vec3 du = shape_point(spec, at + Vec2{h, 0}).place - p.place;
        const Vec3 dv = shape_point(spec, at + Vec2{0, h}).place - p.place;
        REQUIRE(glm::dot(glm::normalize(glm::cross(du, dv)), p.normal) > 0.99);
      }
    }
}

TEST_CASE("charts of random proportions are certified, moved and turned or not, with the same area") {
  Random random(6);
  for (const auto kind : all_shapes())
    for (int i = 0; i < 6; ++i) {
      const auto spec = random_shape(kind, random);
      INFO(told(spec));
      const double tolerance = random.uniform(2, 30) * default_tolerance(spec);
      const auto wall = build_wall(spec, {}, "random", tolerance);
      if (!wall) FAIL(wall.problem().message());
      CHECK((*wall)->metric->area() == Approx(closed_form_area(spec)).epsilon(30e-4));
      const auto moved = build_wall(spec, {{30, -20, 6}, random.uniform(0, 360)}, "moved", tolerance);
      REQUIRE(moved.ok());
      CHECK((*moved)->chart->places() == (*wall)->chart->places());
      CHECK((*moved)->metric->area() == Approx((*wall)->metric->area()).epsilon(1e-11));
    }
}

TEST_CASE("a sketch lies on the surface and spans the whole wall") {
  for (const auto& spec : every_shape()) {
    INFO(told(spec));
    Vec3 low{INFINITY, INFINITY, INFINITY}, high = -low;
    for (const auto& line : shape_sketch(spec)) {
      REQUIRE(line.size() >= 2);
      for (const auto& p : line) {
        REQUIRE(off_surface(spec, p) < 1e-12);
        low = glm::min(low, p), high = glm::max(high, p);
      }
    }
    const auto shape = tessellate(spec, {}, 1e-3);
    for (const auto& p : shape.mesh.points) {
      REQUIRE(glm::length(glm::max(low - p, Vec3{0, 0, 0})) < 0.02);  // arcs of few points
      REQUIRE(glm::length(glm::max(p - high, Vec3{0, 0, 0})) < 0.02);
    }
  }
}
