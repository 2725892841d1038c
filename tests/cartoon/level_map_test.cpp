#include "engine/cartoon/level_map.h"

#include <catch2/catch.hpp>
#include <filesystem>

#include "engine/cartoon/depth_raster.h"
#include "engine/cartoon/isolines.h"
#include "engine/cartoon/level_colours.h"
#include "engine/document/atomic_file.h"
#include "tests/document/folders.h"
#include "tests/fixtures/level_walls.h"

using namespace pontata;

namespace {

// CIE 1976 lightness of an sRGB colour (IEC 61966-2-1).
double lightness(const Colour& c) {
  const auto linear = [](double v) { return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); };
  const double y = 0.2126 * linear(c.red) + 0.7152 * linear(c.green) + 0.0722 * linear(c.blue);
  return y > 216.0 / 24389 ? 116 * std::cbrt(y) - 16 : y * 24389 / 27;
}

DepthRaster cone(int side) {
  DepthRaster raster{side, side, {}};
  for (int y = 0; y < side; ++y)
    for (int x = 0; x < side; ++x)
      raster.values.push_back(static_cast<float>(side / 2.0 - std::hypot(x + 0.5 - side / 2.0, y + 0.5 - side / 2.0)));
  return raster;
}

double length_of(const Isoline& line) {
  double sum = line.closed ? glm::length(line.points.back() - line.points.front()) : 0;
  for (std::size_t i = 0; i + 1 < line.points.size(); ++i) sum += glm::length(line.points[i + 1] - line.points[i]);
  return sum;
}

}  // namespace

TEST_CASE("the colours fall evenly in lightness, so that the map reads in grey") {
  for (int i = 0; i <= 20; ++i) CHECK(lightness(depth_colour(i / 20.0)) == Approx(95 - 73 * i / 20.0).margin(0.6));
}

TEST_CASE("the scale begins and ends on a line of equal depth") {
  CHECK(depth_scale(8, 8).from_mm == 5);
  CHECK(depth_scale(8, 8).to_mm == 10);
  CHECK(depth_scale(4.3, 25.4).from_mm == 0);
  CHECK(depth_scale(4.3, 25.4).to_mm == 30);
  const DepthScale deep = depth_scale(8, 240);
  CHECK(deep.step_mm == 20);
  CHECK(deep.share(deep.to_mm) == 1);
}

TEST_CASE("lines of equal depth of a cone are circles, of a slope straight, and stop where there is no wall") {
  const auto circle = isolines(cone(200), 50);
  REQUIRE(circle.size() == 1);
  CHECK(circle[0].closed);
  CHECK(length_of(circle[0]) == Approx(2 * std::numbers::pi * 50).epsilon(2e-3));
  for (const Vec2& p : circle[0].points) CHECK(glm::length(p - Vec2{100, 100}) == Approx(50).margin(0.02));
  double twice = 0;  // high ground on the left: counter-clockwise round the top
  for (std::size_t i = 0; i < circle[0].points.size(); ++i)
    twice += cross2(circle[0].points[i], circle[0].points[(i + 1) % circle[0].points.size()]);
  CHECK(twice > 0);

  DepthRaster slope{30, 20, {}};
  for (int y = 0; y < 20; ++y)
    for (int x = 0; x < 30; ++x) slope.values.push_back(static_cast<float>(x + 0.5));
  for (std::size_t k = 0; k < 30; ++k) slope.values[10 * 30 + k] = std::nanf("");
  const auto lines = isolines(slope, 12.25);
  REQUIRE(lines.size() == 2);
  for (const auto& line : lines) {
    CHECK_FALSE(line.closed);
    for (const Vec2& p : line.points) CHECK(p.x == Approx(12.25));
  }
  CHECK(isolines(slope, 99).empty());
}

TEST_CASE("a raster takes the triangles' own values and leaves holes empty") {
  fixtures::UnevenWall of = fixtures::plane_wall(2, 1);
  of.edge = 0.1;
  const WallRef wall = fixtures::uneven(of);
  std::vector<double> values;
  for (const auto& p : wall->chart->places()) values.push_back(3 * to_chart(p).u - 2 * to_chart(p).v);
  const DepthRaster raster = rasterise(*wall->chart, values, 80, 40);
  for (int y = 0; y < 40; ++y)
    for (int x = 0; x < 80; ++x)
      CHECK(raster.at(x, y) == Approx(3 * (x + 0.5) / 40 - 2 * (1 - (y + 0.5) / 40)).margin(1e-5));
  CHECK(reduced(raster, 4).at(3, 2) == Approx(3 * 14.0 / 40 - 2 * (1 - 10.0 / 40)).margin(1e-5));
}

TEST_CASE("a depth map of any shape is written, the same bytes each time, and not where it cannot be") {
  fixtures::UnevenWall of = fixtures::plane_wall(2, 1.5);
  of.edge = 0.05;
  of.rise = [](double u, double v) { return -0.02 * std::exp(-8 * ((u - 1) * (u - 1) + (v - 0.7) * (v - 0.7))); };
  const WallRef wall = fixtures::uneven(of);
  const LevelCoat coat = level_wall(*wall, {}, "wall").value();
  LevelMap map;
  map.project = "p", map.wall_name = "wall", map.wall = wall.get(), map.coat = &coat;
  map.giornate.push_back({1, "", 12.3, {wall->chart->border_rings().front()}, {1, 0.75}});
  const TemporaryFolder folder;
  for (const auto& [width, height] : {std::pair{600, 400}, {300, 1200}, {1200, 300}}) {
    const std::string first = folder.file("a.png"), second = folder.file("b.png");
    REQUIRE(write_level_map(map, first, width, height).ok());
    REQUIRE(write_level_map(map, second, width, height).ok());
    const auto image = read_image(first);
    REQUIRE(image.ok());
    CHECK(image->width == width);
    CHECK(image->height == height);
    CHECK(*read_file(first) == *read_file(second));
  }
  CHECK_FALSE(write_level_map(map, folder.file("no/such/folder.png"), 600, 400).ok());
}
