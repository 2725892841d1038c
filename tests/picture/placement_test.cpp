#include "engine/picture/placement.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

Image blank(int width, int height) {
  return {width, height, std::vector<std::uint8_t>(3 * static_cast<std::size_t>(width * height), 128)};
}

double surface_length(const ChartedWall& wall, ChartPoint a, ChartPoint b) {
  return wall.metric->measure(to_lattice(a), to_lattice(b)).length_m;
}

}  // namespace

TEST_CASE("on a flat wall a width is a width, and the height follows from the picture's proportions") {
  const auto wall = flat_wall(5, 3);
  const auto frame = place_by_size(*wall, blank(400, 300), {0.5, 0.25}, 2, 0);
  REQUIRE(frame.ok());
  CHECK(frame->at == ChartPoint{0.5, 0.25});
  CHECK(frame->width == Approx(2).margin(1e-8));
  CHECK(frame->height == Approx(1.5).margin(1e-8));
}

TEST_CASE("without a width the picture fills the chart's width") {
  const auto frame = place_by_size(*barrel_wall(4, 6, 2), blank(10, 10), {0, 0}, 0, 0);
  REQUIRE(frame.ok());
  CHECK(frame->width == Approx(6));
}

TEST_CASE("the width of a picture on a dome is measured on the surface") {
  // Dome of radius 3: the chart's distance from the crown is arc length, so a circle of colatitude t has circumference
  // 2 pi R sin t on the wall and 2 pi R t in the chart; through the crown along u the two agree.
  const auto wall = dome_wall(6, 3);
  const auto box = wall->chart->box();
  const double middle = box.width / 2;
  const auto crown = place_by_size(*wall, blank(100, 100), {middle - 0.5, middle}, 1, 0);
  REQUIRE(crown.ok());
  CHECK(crown->width == Approx(1).epsilon(1e-4));
  const ChartPoint low{middle - 0.4, 0.5};
  const auto rim = place_by_size(*wall, blank(100, 100), low, 0.8, 0);
  REQUIRE(rim.ok());
  CHECK(surface_length(*wall, low, {low.u + rim->width, low.v}) == Approx(0.8).margin(1e-7));
  CHECK(rim->width > 1.1 * 0.8);  // there the chart is wider than the wall
}

TEST_CASE("beside the wall a width counts as in the chart") {
  const auto wall = flat_wall(2, 2);
  CHECK(place_by_size(*wall, blank(10, 10), {-1, 1}, 5, 0)->width == Approx(5).margin(1e-7));
  CHECK(place_by_size(*wall, blank(10, 10), {0.5, -1}, 3, 0)->width == Approx(3).margin(1e-7));
  const auto dome = dome_wall(6, 3);  // its chart's corner lies outside the disc
  CHECK(place_by_size(*dome, blank(10, 10), {0, 0}, 4, 0)->width == Approx(4).margin(1e-7));
}

TEST_CASE("chart and pixels convert there and back, turned or not") {
  const auto image = blank(640, 480);
  std::mt19937 rng(4);
  std::uniform_real_distribution<double> place(-3, 3);
  for (const double turn : {0.0, 30.0, -135.0}) {
    const PictureFrame frame{{0.3, -0.2}, 1.6, 1.2, turn};
    const Vec2 corner = to_pixel(frame, image, frame.at);
    CHECK(corner.x == Approx(0).margin(1e-9));
    CHECK(corner.y == Approx(480));
    for (int k = 0; k < 100; ++k) {
      const ChartPoint p{place(rng), place(rng)};
      const auto back = from_pixel(frame, image, to_pixel(frame, image, p));
      CHECK(back.u == Approx(p.u).margin(1e-12));
      CHECK(back.v == Approx(p.v).margin(1e-12));
      const Vec2 pixel = to_pixel(frame, image, p);
      const bool on = pixel.x >= 0 && pixel.x <= 640 && pixel.y >= 0 && pixel.y <= 480;
      CHECK(covers(frame, p) == on);
    }
  }
  // A quarter turn to the left: the picture's width runs up the wall.
  const PictureFrame frame{{1, 1}, 2, 1, 90};
  const Vec2 along = to_pixel(frame, image, {1, 2});
  CHECK(along.x == Approx(320));
  CHECK(along.y == Approx(480));
}

TEST_CASE("a picture wholly beside the wall is refused, one that touches it is not") {
  const auto wall = flat_wall(2, 2);
  const auto image = blank(10, 10);
  for (const ChartPoint at : {ChartPoint{3, 0}, ChartPoint{-1.5, 0}, ChartPoint{0, 2.5}, ChartPoint{0, -1.01}}) {
    const auto frame = place_by_size(*wall, image, at, 1, 0);
    REQUIRE_FALSE(frame.ok());
    CHECK(frame.problem().message().find("beside the wall") != std::string::npos);
  }
  CHECK(place_by_size(*wall, image, {1.9, 1.9}, 1, 0).ok());
  CHECK(place_by_size(*wall, image, {-0.5, -0.5}, 3, 0).ok());         // covers all of it
  CHECK(place_by_size(*wall, image, {0.9, 0.9}, 0.1, 0).ok());         // lies within it
  CHECK(place_by_size(*wall, image, {2.5, 0.5}, 1, 90).ok());          // turned onto it
  CHECK_FALSE(place_by_size(*wall, image, {2.5, 0.5}, 0.4, 90).ok());  // turned, but too small
  const auto dome = dome_wall(6, 3);
  CHECK_FALSE(place_by_size(*dome, image, {0, 0}, 1, 0).ok());  // in the chart's box, beside the disc
}

TEST_CASE("a frieze from edge to edge of the wall lies on it") {
  const auto wall = flat_wall(5, 3.2);
  CHECK(place_by_size(*wall, blank(500, 40), {0, 2.75}, 5, 0).ok());
  CHECK(place_by_size(*wall, blank(40, 500), {2, 0}, 0.256, 0).ok());
  CHECK_FALSE(place_by_size(*wall, blank(500, 40), {0, 3.2}, 5, 0).ok());  // upon its upper edge, beside it
}

TEST_CASE("places and widths that are no numbers are refused") {
  const auto wall = flat_wall(2, 2);
  const auto image = blank(10, 10);
  CHECK_FALSE(place_by_size(*wall, image, {NAN, 0}, 1, 0).ok());
  CHECK_FALSE(place_by_size(*wall, image, {0, 1e30}, 1, 0).ok());
  CHECK_FALSE(place_by_size(*wall, image, {0, 0}, -1, 0).ok());
  CHECK_FALSE(place_by_size(*wall, image, {0, 0}, INFINITY, 0).ok());
  CHECK_FALSE(place_by_size(*wall, image, {0, 0}, 501, 0).ok());
  CHECK_FALSE(place_by_size(*wall, image, {0, 0}, 1, NAN).ok());
  CHECK_FALSE(place_by_size(*wall, Image{}, {0, 0}, 1, 0).ok());
}
