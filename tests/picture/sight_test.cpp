// What an eye sees, against closed forms.
#include "engine/picture/sight.h"

#include <catch2/catch.hpp>

#include "tests/picture/eye_scenes.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

ChartPoint random_place(const WallRef& wall, Random& random) {
  const auto box = wall->chart->box();
  for (;;) {
    const ChartPoint p{random.uniform(0, box.width), random.uniform(0, box.height)};
    if (wall->chart->locate(p)) return p;
  }
}

struct Asked {
  Vec3 place, normal;
};
Asked on_wall(const WallRef& wall, ChartPoint p) {
  const auto on = wall->chart->locate(p).value();
  return {position(wall->mesh(), on), normal(wall->mesh(), on)};
}

void check_against_closed_form(const EyeScene& scene, unsigned seed) {
  const Sight sight(scene.wall, {scene.screen}, scene.eye);
  constexpr double kMargin = 1e-3;  // m on the screen: what 0.1 mm of a chord and the lift above the wall can do
  Random random(seed);
  int seen = 0, hidden = 0, wrong = 0;
  for (int k = 0; k < 20'000; ++k) {
    const ChartPoint p = random_place(scene.wall, random);
    const double behind = scene.behind_screen(scene.exact(p).place);
    if (std::abs(behind) < kMargin) continue;
    const auto asked = on_wall(scene.wall, p);
    const bool expected = behind < 0;  // the eye stands inside a hollow shape: all of it faces the eye
    ++(expected ? seen : hidden);
    wrong += sight.sees(asked.place, asked.normal) != expected;
  }
  CHECK(wrong == 0);
  CHECK(seen > 2000);
  CHECK(hidden > 2000);
}

}  // namespace

TEST_CASE("past a screen with a hole, the eye sees of a barrel what the closed form says") {
  check_against_closed_form(barrel_scene(), 11);
}

TEST_CASE("past the edge of a wall, the eye sees of a dome what the closed form says") {
  check_against_closed_form(dome_scene(), 12);
}

TEST_CASE("an eye inside a hollow wall sees all of it, however its sight grazes it") {
  // Springing places of the barrel and the rim of the dome are seen at less than a degree from their tangent.
  const auto barrel = barrel_wall(4, 6, 2);
  const auto dome = dome_wall(6, 3);
  Random random(13);
  for (const auto& [wall, eye] : {std::pair{barrel, Vec3(3, 0, -200)}, std::pair{barrel, Vec3(-500, 0, 1)},
                                  std::pair{barrel, Vec3(3, 1.99, 0.01)}, std::pair{dome, Vec3(0, 0, -400)},
                                  std::pair{dome, Vec3(2.99, 0, 0.01)}}) {
    const Sight sight(wall, {}, eye);
    int unseen = 0;
    for (int k = 0; k < 5000; ++k) {
      const auto asked = on_wall(wall, random_place(wall, random));
      unseen += !sight.sees(asked.place, asked.normal);
    }
    INFO("eye at " << eye.x << ", " << eye.y << ", " << eye.z);
    CHECK(unseen == 0);
  }
}

TEST_CASE("of a bulging wall the eye sees up to its horizon, and not beyond") {
  // The outside of a drum: a scan is not needed, the inner rim of an annular vault bulges toward the eye. Its section
  // is a circle of radius 1 about the ring of radius 2; the inner springing's wall stands at plan radius 1 and is
  // convex in plan as seen from the ring: an eye on the ring at angle 0 sees its foot up to the angle acos(1 / 2).
  const ShapeSpec spec{.kind = ShapeKind::annular, .inner = 1, .outer = 3, .angle_deg = 360};
  const auto wall = built(spec);
  const auto box = wall->chart->box();
  // (x, y) = (-rho cos phi, rho sin phi); the eye at phi = 180 degrees, so that the cut lies behind.
  const Vec3 eye{2, 0, 0.0005};
  const Sight sight(wall, {}, eye);
  const double horizon = std::acos(0.5);
  for (int k = -40; k <= 40; ++k) {
    const double phi = std::numbers::pi + k * 0.035;
    const ChartPoint p{2 * phi, box.height - 0.001};  // just above the inner springing
    const auto asked = on_wall(wall, p);
    const double off = std::abs(k * 0.035);
    INFO("angle " << off << " horizon " << horizon);
    if (std::abs(off - horizon) > 0.02) CHECK(sight.sees(asked.place, asked.normal) == (off < horizon));
  }
}

TEST_CASE("a place's back is not seen, nor one behind a wall that stands hard by") {
  const auto wall = flat_wall(2, 2);  // painted on its -y side
  CHECK(Sight(wall, {}, {1, -1, 1}).sees({0.5, 0, 0.5}, {0, -1, 0}));
  CHECK_FALSE(Sight(wall, {}, {1, 1, 1}).sees({0.5, 0, 0.5}, {0, -1, 0}));
  const auto before = build_wall(flat_spec(2, 2), {{0, -0.01, 0}, 0}, "before").value();  // 10 mm clear of it
  CHECK_FALSE(Sight(wall, {before}, {1, -1, 1}).sees({0.5, 0, 0.5}, {0, -1, 0}));
  const auto on_it = build_wall(flat_spec(2, 2), {{0, -0.0001, 0}, 0}, "on it").value();  // within the tolerance
  CHECK(Sight(wall, {on_it}, {1, -1, 1}).sees({0.5, 0, 0.5}, {0, -1, 0}));
}

TEST_CASE("an eye on the wall itself is answered") {
  const auto wall = flat_wall(2, 2);
  const Sight sight(wall, {}, {0.5, -1e-5, 0.5});
  CHECK(sight.sees({0.5, 0, 0.5}, {0, -1, 0}));
}
