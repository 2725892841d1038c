// Cameras against closed forms.
#include "engine/picture/camera.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "tests/fixtures/photographs.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();

// Looks north (y), right is east.
Camera plain_camera() {
  Camera c;
  c.eye = {1, 2, 3};
  c.focal_px = 2000;
  c.middle_px = {800, 600};
  return c;
}

}  // namespace

TEST_CASE("a pinhole images by similar triangles") {
  // 4 m ahead, 1 m to the right, 0.5 m up: 2000 / 4 px per metre (any book on photography).
  const auto pixel = project(plain_camera(), {2, 6, 3.5});
  REQUIRE(pixel);
  CHECK(pixel->x == Approx(800 + 500));
  CHECK(pixel->y == Approx(600 - 250));
  CHECK_FALSE(project(plain_camera(), {1, 1.9, 3}));  // behind
  CHECK_FALSE(project(plain_camera(), {1, 2, 3}));    // the eye itself
  CHECK_FALSE(project(plain_camera(), {kNaN, 6, 3}));
}

TEST_CASE("radial distortion moves images along the radius by Brown's polynomial") {
  Camera c = plain_camera();
  c.k1 = -0.2;
  c.k2 = 0.05;
  // r = 0.5: factor 1 - 0.2 * 0.25 + 0.05 * 0.0625 = 0.953125.
  const auto pixel = project(c, {1 + 0.3 * 4, 6, 3 - 0.4 * 4});
  REQUIRE(pixel);
  CHECK(pixel->x == Approx(800 + 2000 * 0.3 * 0.953125));
  CHECK(pixel->y == Approx(600 + 2000 * 0.4 * 0.953125));
}

TEST_CASE("beyond the fold of a distortion there is neither image nor line of sight") {
  Camera c = plain_camera();
  c.k1 = -0.2;
  // r (1 - 0.2 r^2) grows to r = sqrt(1 / 0.6) = 1.2910, where it is 2 / 3 of that: 0.86066.
  CHECK(project(c, {1 + 1.29, 3, 3}));
  CHECK_FALSE(project(c, {1 + 1.292, 3, 3}));
  CHECK(sight_line(c, {800 + 2000 * 0.8606, 600}));
  CHECK_FALSE(sight_line(c, {800 + 2000 * 0.8607, 600}));
}

TEST_CASE("the line of sight of a pixel goes through every place imaged there") {
  Random random(1);
  for (int k = 0; k < 1000; ++k) {
    Camera c = photographer(kSurfaces[random.below(4)], random);
    c.k1 = random.uniform(-0.3, 0.3);
    c.k2 = random.uniform(-0.1, 0.2);
    const Vec2 pixel(random.uniform(0, 4000), random.uniform(0, 3000));
    const auto sight = sight_line(c, pixel);
    if (!sight) continue;
    CHECK(glm::length(*sight) == Approx(1).epsilon(1e-14));
    const auto again = project(c, c.eye + random.uniform(0.1, 50) * *sight);
    REQUIRE(again);
    CHECK(glm::length(*again - pixel) < 1e-8);
  }
  CHECK_FALSE(sight_line(plain_camera(), {kNaN, 1}));
}

TEST_CASE("an eye spans its angle across the picture's width, upright and not mirrored") {
  const auto c = eye_camera({0, -5, 1.7}, {0, 0, 4}, {0, 0, 1}, 60, {4000, 3000});
  REQUIRE(c.ok());
  CHECK(glm::length(glm::cross(c->right, c->down) - c->ahead) < 1e-15);
  CHECK(glm::length(c->ahead - glm::normalize(Vec3(0, 5, 2.3))) < 1e-15);
  CHECK(c->right.x == Approx(1));
  CHECK(c->down.z < 0);
  const auto left = sight_line(*c, {0, 1500}), right = sight_line(*c, {4000, 1500});
  CHECK(std::acos(glm::dot(*left, *right)) * 180 / std::numbers::pi == Approx(60));
  CHECK(project(*c, {0.1, 0, 4})->x > 2000);
  CHECK(project(*c, {0, 0, 4.1})->y < 1500);
}

TEST_CASE("an eye that cannot look is refused") {
  const PictureSize size{400, 300};
  CHECK_FALSE(eye_camera({1, 1, 1}, {1, 1, 1}, {0, 0, 1}, 60, size).ok());
  CHECK_FALSE(eye_camera({1, 1, 1}, {1, 1, 4}, {0, 0, 1}, 60, size).ok());
  CHECK_FALSE(eye_camera({1, 1, 1}, {2, 1, 4}, {0, 0, 0}, 60, size).ok());
  CHECK_FALSE(eye_camera({1, 1, kNaN}, {2, 1, 4}, {0, 0, 1}, 60, size).ok());
  CHECK_FALSE(eye_camera({1, 1, 1}, {1e300, 1e300, 4}, {0, 0, 1}, 60, size).ok());
  CHECK_FALSE(eye_camera({1, 1, 1}, {2, 1, 4}, {0, 0, 1}, 60, {0, 300}).ok());
  for (const double angle : {0.0, -10.0, 170.0, 360.0, kNaN})
    CHECK_FALSE(eye_camera({1, 1, 1}, {2, 1, 4}, {0, 0, 1}, angle, size).ok());
}
