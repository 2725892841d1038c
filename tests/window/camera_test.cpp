#include "editor/view/camera.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <glm/gtc/matrix_access.hpp>


using namespace pontata;

namespace {

constexpr ViewSize kSize{800, 600};

WallRef wall_of(ShapeKind kind) {
  ShapeSpec spec;
  spec.kind = kind;
  spec.span = 4;
  spec.length = 6;
  spec.rise = 2;
  spec.width = 5;
  spec.height = 3;
  auto wall = build_wall(spec, {}, "wall", 0.01);
  REQUIRE(wall);
  return *wall;
}

}  // namespace

TEST_CASE("flat view: pixels and places are inverse, and zooming keeps the place under the pointer") {
  FlatCamera camera = flat_fit({6, 3}, kSize);
  const ChartPoint p = camera.from_px({123, 456}, kSize);
  const Vec2 back = camera.to_px(p, kSize);
  CHECK(back.x == Approx(123));
  CHECK(back.y == Approx(456));
  camera.zoom(3.7, {123, 456}, kSize);
  const ChartPoint after = camera.from_px({123, 456}, kSize);
  CHECK(after.u == Approx(p.u));
  CHECK(after.v == Approx(p.v));
  CHECK(camera.metre_px == Approx(3.7 * 0.92 * 800 / 6));
}

TEST_CASE("flat view: the whole chart fits and stands upright") {
  const FlatCamera camera = flat_fit({6, 3}, kSize);
  const Vec2 low = camera.to_px({0, 0}, kSize), high = camera.to_px({6, 3}, kSize);
  CHECK(low.x > 0);
  CHECK(high.x < kSize.width);
  CHECK(low.y > high.y);  // v up
  CHECK(low.y < kSize.height);
}

TEST_CASE("3D view: a ray through a place's pixel meets the place") {
  OrbitCamera camera;
  camera.eye = {1, -4, 1.5};
  camera.yaw = 0.3;
  camera.pitch = 0.4;
  const Vec3 place{0.2, 3, 3.1};
  const auto px = camera.to_px(place, kSize);
  REQUIRE(px);
  const auto ray = camera.ray(*px, kSize);
  const Vec3 d = place - ray.origin;
  CHECK(glm::length(glm::cross(d, ray.direction)) < 1e-9);
  CHECK_FALSE(camera.to_px(camera.eye - camera.forward(), kSize));
}

TEST_CASE("3D view: turning and shifting keep what they promise") {
  OrbitCamera camera;
  const Vec3 pivot{0.5, 2, 2};
  const auto before = camera.to_px(pivot, kSize);
  const double distance = glm::length(pivot - camera.eye);
  camera.orbit({60, -25}, pivot, kSize);
  const auto after = camera.to_px(pivot, kSize);
  REQUIRE(after);
  CHECK(after->x == Approx(before->x));
  CHECK(after->y == Approx(before->y));
  CHECK(glm::length(pivot - camera.eye) == Approx(distance));
  camera.pan({30, 40}, pivot, kSize);
  const auto shifted = camera.to_px(pivot, kSize);
  CHECK(shifted->x == Approx(before->x + 30));
  CHECK(shifted->y == Approx(before->y + 40));
}

TEST_CASE("3D view: the drawing's matrix agrees with the pointer's arithmetic") {
  OrbitCamera camera;
  camera.eye = {12, -4, 1.5};
  camera.yaw = -0.4;
  camera.pitch = 0.7;
  const Vec3 origin{10, 0, 2}, place{13, 3, 4};
  camera.enclose(origin, 8);
  const glm::vec4 clip = camera.clip(kSize, origin) * glm::vec4(glm::vec3(place - origin), 1.0f);
  const auto px = camera.to_px(place, kSize);
  REQUIRE(px);
  CHECK((clip.x / clip.w * 0.5 + 0.5) * kSize.width == Approx(px->x).margin(0.01));
  CHECK((0.5 - clip.y / clip.w * 0.5) * kSize.height == Approx(px->y).margin(0.01));
  CHECK(std::abs(clip.z / clip.w) <= 1);
}

TEST_CASE("3D view: the first view shows the painted side of every shape, all of it in view") {
  for (const ShapeKind kind : {ShapeKind::flat, ShapeKind::barrel, ShapeKind::dome, ShapeKind::apse}) {
    const WallRef wall = wall_of(kind);
    const OrbitCamera camera = first_view(*wall, kSize);
    int seen = 0;
    for (int i = 1; i < 10; ++i)
      for (int j = 1; j < 10; ++j) {
        const ChartBox box = wall->chart->box();
        const ChartPoint p{box.width * i / 10, box.height * j / 10};
        const auto place = wall->position(p);
        if (!place) continue;
        const auto px = camera.to_px(*place, kSize);
        REQUIRE(px);
        CHECK(px->x > 0);
        CHECK(px->x < kSize.width);
        const auto hit = seen_place(*wall, camera.ray(*px, kSize));
        seen += hit && glm::length(hit->place - *place) < 0.01;
      }
    INFO(shape_name(kind));
    CHECK(seen >= 40);  // of 81 or, in a round chart, about 60
  }
}

TEST_CASE("3D view: a sight line from behind passes through to the painted side") {
  const WallRef wall = wall_of(ShapeKind::barrel);
  const OrbitCamera::Ray above{{3, 0.3, 10}, {0, 0, -1}};  // over the crown, looking down
  CHECK_FALSE(seen_place(*wall, above));
  const OrbitCamera::Ray below{{3, 0.3, -1}, {0, 0, 1}};
  const auto seen = seen_place(*wall, below);
  REQUIRE(seen);
  CHECK(seen->place.z == Approx(std::sqrt(4 - 0.09)).margin(0.01));
}

namespace {

// A room open toward -x: two side walls that face each other, and an end.
std::vector<WallRef> room() {
  ShapeSpec side;
  side.width = 4, side.height = 3;
  const auto wall = [&](Vec3 at, double turn_deg) { return *build_wall(side, {at, turn_deg}, "side"); };
  return {wall({0, 2, 0}, 0), wall({4, -2, 0}, 180), wall({4, 2, 0}, -90)};
}

}  // namespace

TEST_CASE("3D view of several walls: all of them in view, from the open side") {
  const auto walls = room();
  const OrbitCamera camera = first_view(walls, kSize);
  CHECK(camera.forward().x > 0.8);
  for (const WallRef& wall : walls)
    for (const Vec3& p : wall->mesh().points) {
      const auto px = camera.to_px(p, kSize);
      REQUIRE(px);
      CHECK(px->x > 0);
      CHECK(px->x < kSize.width);
      CHECK(px->y > 0);
      CHECK(px->y < kSize.height);
    }
}

TEST_CASE("3D view of several walls: the nearest painted side is seen, and a wall from behind hides nothing") {
  const auto walls = room();
  const OrbitCamera::Ray along{{-1, 0, 1}, {1, 0, 0}};  // in through the open side
  const auto end = seen_place(walls, along);
  REQUIRE(end);
  CHECK(end->wall == 2);
  CHECK(end->seen.distance == Approx(5));
  const OrbitCamera::Ray across{{2, 5, 1}, {0, -1, 0}};  // from outside through the back of the first wall
  const auto far = seen_place(walls, across);
  REQUIRE(far);
  CHECK(far->wall == 1);
  CHECK(far->seen.place.y == Approx(-2));
  CHECK_FALSE(seen_place(walls, OrbitCamera::Ray{{-1, 0, 1}, {-1, 0, 0}}));
}

TEST_CASE("flying to a place looks at it squarely") {
  const WallRef wall = wall_of(ShapeKind::flat);
  const OrbitCamera camera = view_of(*wall, {2, 1}, 1.5, first_view(*wall, kSize));
  const auto px = camera.to_px({2, 0, 1}, kSize);
  REQUIRE(px);
  CHECK(px->x == Approx(400).margin(0.5));
  CHECK(px->y == Approx(300).margin(0.5));
  CHECK(glm::length(camera.eye - Vec3{2, 0, 1}) == Approx(1.5));
}
