#include "engine/picture/stretch.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/picture/plane_lay.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

Image blank(int width, int height) {
  return {width, height, std::vector<std::uint8_t>(3 * static_cast<std::size_t>(width * height), 128)};
}

}  // namespace

TEST_CASE("by elevation on a semicircular barrel a line up the arc is 1 / cos of its height's angle too long") {
  // R = 2; at arc length v the surface has turned by v / R from upright: dv = dz / cos(v / R).
  const auto wall = barrel_wall(4, 6, 2);
  const auto lay = place_by_plane(*wall, blank(600, 200), false, {0, 0}, 6, 0).value();
  const auto picture = placed(blank(600, 200), lay);
  for (const double v : {0.05, 0.5, 1.0, 1.7, 2.4, 2.9, 3.05}) {
    const auto covers = pixel_spread(*wall, *picture, {2.3, v});
    REQUIRE(covers);
    CHECK(covers->least_mm == Approx(10).epsilon(1e-4));
    CHECK(covers->greatest_mm == Approx(10 / std::cos(v / 2)).epsilon(1e-3));
  }
  const auto field = stretch_field(wall, *picture, {}, 400);
  REQUIRE(field.ok());
  CHECK(field->report.own_mm_per_px == Approx(10).epsilon(1e-4));
  // The picture is 2 m high, as is the barrel: stretch < 1.1 up to cos(v / 2) = 1 / 1.1, on a quarter turn of pi m.
  CHECK(field->report.within_tenth == Approx(2 * std::acos(1 / 1.1) / kPi).margin(0.01));
  CHECK(field->report.area_m2 == Approx(6 * kPi).epsilon(0.01));
  CHECK(field->report.least.times == Approx(1).margin(1e-3));
  CHECK(field->report.least.place.v < 0.3);
  CHECK(field->report.greatest.place.v > kPi - 0.05);
}

TEST_CASE("unrolled on a barrel nothing is stretched") {
  const auto wall = barrel_wall(4, 6, 2);
  const auto frame = place_by_size(*wall, blank(600, 200), {0, 0}, 6, 30).value();
  const auto field = stretch_field(wall, *placed(blank(600, 200), frame), {}, 300);
  REQUIRE(field.ok());
  CHECK(field->report.own_mm_per_px == Approx(10).epsilon(1e-4));
  CHECK(field->report.least.times == Approx(1).margin(1e-4));
  CHECK(field->report.greatest.times == Approx(1).margin(1e-4));
  CHECK(field->report.within_tenth == Approx(1));
}

TEST_CASE("by plan on a dome a line down the slope is 1 / cos of the slope too long") {
  // Sphere of radius 3: at arc length s from the crown the slope is s / R.
  const auto wall = dome_wall(6, 3);
  const double middle = wall->chart->box().width / 2;
  const auto picture = placed(blank(600, 600), place_by_plane(*wall, blank(600, 600), true, {0, 0}, 0, 0).value());
  const double own = std::get<PlaneLay>(picture->lay).width / 600 * 1000;
  CHECK(own == Approx(10).epsilon(1e-3));
  for (const double turn : {0.1, 1.3, 2.9, 4.4})
    for (const double s : {0.2, 1.5, 3.0, 4.2}) {
      const auto covers = pixel_spread(*wall, *picture, {middle + s * std::cos(turn), middle + s * std::sin(turn)});
      REQUIRE(covers);
      CHECK(covers->least_mm == Approx(own).epsilon(1e-3));
      CHECK(covers->greatest_mm == Approx(own / std::cos(s / 3)).epsilon(1e-3));
    }
}

TEST_CASE("seen by an eye aslant on a flat wall the stretch is that of the plane's perspective") {
  // The eye stands h before the wall and looks up by the angle b. Straight up from the eye's foot, at the angle a:
  // the depth along the line of sight is h cos(a - b) / cos a, so a pixel is that over f wide; and up the wall
  // d(h tan a) / d(f tan(a - b)) = h cos^2(a - b) / (f cos^2 a).
  const auto wall = flat_wall(6, 8);  // painter at y < 0
  const double h = 3, b = 0.5, f = 800;
  const PictureSize size{1600, 1200};
  const Vec3 eye{3, -h, 1};
  const auto camera =
      eye_camera(eye, eye + Vec3(0, std::cos(b), std::sin(b)), {0, 0, 1}, 2 * std::atan(800 / f) * 180 / kPi, size);
  REQUIRE(camera.ok());
  const auto picture = placed(blank(1600, 1200), CameraLay{*camera});
  for (const double a : {0.05, 0.3, 0.5, 0.8, 1.1}) {
    const auto covers = pixel_spread(*wall, *picture, {3, 1 + h * std::tan(a)});
    REQUIRE(covers);
    const double across = h * std::cos(a - b) / (f * std::cos(a)), up = across * std::cos(a - b) / std::cos(a);
    CHECK(covers->least_mm == Approx(1000 * std::min(across, up)).epsilon(1e-5));
    CHECK(covers->greatest_mm == Approx(1000 * std::max(across, up)).epsilon(1e-5));
  }
  const auto straight = eye_camera(eye, eye + Vec3(0, 1, 0), {0, 0, 1}, 90, size);
  const auto field = stretch_field(wall, *placed(blank(1600, 1200), CameraLay{*straight}), {}, 200);
  REQUIRE(field.ok());  // square to the wall it is laid as on a plane: no stretch at all
  CHECK(field->report.greatest.times == Approx(1).margin(1e-6));
}

TEST_CASE("a picture that shows nowhere has no stretch, and a stopped field says so") {
  const auto wall = flat_wall(3, 2);
  auto picture = std::make_shared<PlacedPicture>(*placed(blank(30, 20), PictureFrame{{0, 0}, 3, 2, 0}));
  picture->fade = 1;
  const auto field = stretch_field(wall, *picture, {}, 50);
  REQUIRE_FALSE(field.ok());
  CHECK(field.problem().what.find("shows nowhere") != std::string::npos);
  picture->fade = 0;
  Progress progress;
  progress.cancelled = true;
  const auto stopped = stretch_field(wall, *picture, {}, 50, &progress);
  REQUIRE_FALSE(stopped.ok());
  CHECK(stopped.problem().what == "stopped");
}
