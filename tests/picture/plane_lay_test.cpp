// Against closed-form projections: the exact point of a shape (shape_point) seen along an axis.
#include "engine/picture/plane_lay.h"

#include <catch2/catch.hpp>

#include "engine/picture/draped.h"
#include "engine/picture/sight.h"
#include "engine/wall/shape_point.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/random_places.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kTenthMm = 1e-4;  // m

PlaneLay laid(const WallRef& wall, PictureSize size, bool plan, ChartPoint at, double width, double turn = 0) {
  const auto lay = place_by_plane(*wall, size, plan, at, width, turn);
  INFO((lay ? "" : lay.problem().message()));
  REQUIRE(lay.ok());
  return *lay;
}

// True metres right of and above the picture's lower left corner of what it shows at a chart place.
Vec2 metres(const WallRef& wall, const PlaneLay& lay, PictureSize size, ChartPoint p) {
  const Vec2 pixel = pixel_at(lay, {}, size, p, wall->position(p).value()).value();
  return {pixel.x / size.width * lay.width, (1 - pixel.y / size.height) * lay.height};
}

ChartPoint random_place(const WallRef& wall, Random& random) {
  const auto box = wall->chart->box();
  for (;;) {
    const ChartPoint p{random.uniform(0, box.width), random.uniform(0, box.height)};
    if (wall->chart->locate(p)) return p;
  }
}

std::string refusal(const ShapeSpec& spec, bool plan, ChartPoint at = {0, 0}, double width = 0) {
  const auto lay = place_by_plane(*built(spec), {40, 30}, plan, at, width, 0);
  REQUIRE_FALSE(lay.ok());
  return lay.problem().what;
}

}  // namespace

TEST_CASE("by plan, a barrel's picture lies over its plan: to 0.1 mm of the closed form") {
  // Own frame: the axis along +x, the springing at y = span/2 is the picture's lower edge, seen from below.
  for (const ShapeSpec& spec : {barrel_spec(4, 6, 2), barrel_spec(5, 3, 0.8),
                                ShapeSpec{.kind = ShapeKind::elliptical_barrel, .span = 4, .length = 5, .rise = 3}}) {
    const auto wall = built(spec);
    const PictureSize size{3000, 1000};
    const auto lay = laid(wall, size, true, {0.5, 0}, 3);
    CHECK(lay.height == Approx(1));
    Random random(3);
    for (int k = 0; k < 300; ++k) {
      const ChartPoint p = random_place(wall, random);
      const Vec3 exact = shape_point(spec, to_vec(p)).place;
      const Vec2 seen = metres(wall, lay, size, p);
      CHECK(seen.x == Approx(exact.x - 0.5).margin(kTenthMm));
      CHECK(seen.y == Approx(spec.span / 2 - exact.y).margin(kTenthMm));
    }
  }
}

TEST_CASE("by elevation, a barrel's picture lies on the half that faces where it was put") {
  const ShapeSpec spec = barrel_spec(4, 6, 2);
  const auto wall = built(spec);
  const PictureSize size{600, 200};
  const auto lay = laid(wall, size, false, {0, 0}, 6);  // the springing at y = +2, which faces -y
  const auto sight = sight_of(lay, wall, {});
  REQUIRE(sight);
  Random random(4);
  for (int k = 0; k < 300; ++k) {
    const ChartPoint p = random_place(wall, random);
    const ShapePoint exact = shape_point(spec, to_vec(p));
    const Vec2 seen = metres(wall, lay, size, p);
    CHECK(seen.x == Approx(exact.place.x).margin(kTenthMm));
    CHECK(seen.y == Approx(exact.place.z).margin(kTenthMm));
    if (std::abs(exact.place.y) > 0.01)
      CHECK(sight->sees(wall->position(p).value(), exact.normal) == (exact.place.y > 0));
  }
}

TEST_CASE("of a drum all round, an elevation shows the half beyond its middle, and turned it reads the same") {
  const ShapeSpec spec{.kind = ShapeKind::drum, .height = 2, .span = 3, .angle_deg = 360};
  const auto wall = build_wall(spec, {{1, 2, 3}, 30}, "drum").value();
  const Image white{8, 8, std::vector<std::uint8_t>(3 * 64, 255)};
  const double pi = std::numbers::pi;
  const ChartPoint at{1.5 * pi, 0};  // opposite the cut
  const auto lay = laid(wall, {8, 8}, false, at, 0);
  CHECK(lay.width == Approx(3).margin(1e-3));  // its diameter
  const auto draped = fixtures::draped(wall, white, lay, 0.02);
  for (int k = 0; k < 40; ++k) {
    const double u = 3 * pi * (k + 0.5) / 40;
    const double off = std::abs(u - at.u) / 1.5;  // angle from the middle of what is seen
    if (std::abs(off - pi / 2) > 0.05) CHECK(draped->covers({u, 1}) == (off < pi / 2));
  }
}

TEST_CASE("without a width a plan is as wide as what shows, its corner at the lower left of that") {
  const ShapeSpec spec = dome_spec(6, 3);
  const auto wall = built(spec);
  const PictureSize size{200, 200};
  const auto lay = laid(wall, size, true, {0, 0}, 0);
  CHECK(lay.width == Approx(6).margin(1e-3));
  Random random(5);
  for (int k = 0; k < 200; ++k) {
    const ChartPoint p = random_place(wall, random);
    const Vec3 exact = shape_point(spec, to_vec(p)).place;  // about the crown's axis; u runs to +x, v to -y
    const Vec2 seen = metres(wall, lay, size, p);
    CHECK(seen.x == Approx(exact.x + 3).margin(1e-3));
    CHECK(seen.y == Approx(3 - exact.y).margin(1e-3));
  }
}

TEST_CASE("the view of a plane lay runs from the viewer toward the painted side") {
  CHECK(glm::length(looks_along(laid(built(barrel_spec(4, 6, 2)), {9, 9}, true, {0, 0}, 0)) - Vec3(0, 0, 1)) < 1e-9);
  // A flat wall is painted on its -y side; turned by 90 degrees about the vertical, that is +x.
  const auto flat = build_wall(flat_spec(3, 2), {{0, 0, 0}, 90}, "flat").value();
  CHECK(glm::length(looks_along(laid(flat, {9, 9}, false, {0, 0}, 0)) - Vec3(-1, 0, 0)) < 1e-9);
  CHECK(glm::length(looks_along(laid(flat, {9, 9}, false, {0, 0}, 0, 77)) - Vec3(-1, 0, 0)) < 1e-9);
}

TEST_CASE("on a flat wall an elevation is the unrolled lay, turned or not") {
  const auto wall = build_wall(flat_spec(5, 3), {{2, 1, 0.5}, 25}, "flat").value();
  const PictureSize size{400, 300};
  Random random(6);
  for (const double turn : {0.0, 20.0, -100.0}) {
    const ChartPoint at{2, 1.5};
    const auto lay = laid(wall, size, false, at, 1.6, turn);
    const auto frame = place_by_size(*wall, size, at, 1.6, turn).value();
    for (int k = 0; k < 100; ++k) {
      const ChartPoint p = random_place(wall, random);
      const Vec2 a = pixel_at(lay, {}, size, p, wall->position(p).value()).value(), b = to_pixel(frame, size, p);
      CHECK(glm::length(a - b) < 1e-3);
    }
  }
}

TEST_CASE("what does not show cannot be laid that way") {
  CHECK(refusal(flat_spec(3, 2), true).find("no left and right") == std::string::npos);
  CHECK(refusal(flat_spec(3, 2), true).find("hardly shows in plan") != std::string::npos);
  CHECK(
      refusal({.kind = ShapeKind::drum, .height = 2, .span = 3, .angle_deg = 360}, true).find("hardly shows in plan") !=
      std::string::npos);
  // The crown of a barrel faces straight down: no side is named.
  CHECK(refusal(barrel_spec(4, 6, 2), false, {3, std::numbers::pi}).find("faces no level direction") !=
        std::string::npos);
  CHECK(refusal(barrel_spec(4, 6, 2), true, {0, 0}, -1).find("width") != std::string::npos);
  CHECK(refusal(barrel_spec(4, 6, 2), true, {NAN, 0}, 1).find("usable number") != std::string::npos);
  const auto empty = place_by_plane(*built(barrel_spec(4, 6, 2)), {0, 9}, true, {0, 0}, 1, 0);
  REQUIRE_FALSE(empty.ok());
  CHECK(empty.problem().what.find("empty") != std::string::npos);
  // Turned about the corner it leaves the wall.
  const auto beside = place_by_plane(*built(flat_spec(3, 2)), {40, 30}, false, {0, 0}, 1, 170);
  REQUIRE_FALSE(beside.ok());
  CHECK(beside.problem().what.find("beside") != std::string::npos);
}
