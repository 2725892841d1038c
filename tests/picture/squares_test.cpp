#include "engine/picture/squares.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

const SquareLine* named(const Squares& squares, const std::string& name) {
  for (const SquareLine& line : squares.lines)
    if (line.name == name) return &line;
  return nullptr;
}

// Angle from the springing where v begins (y > 0), of a barrel with its centre at height h.
double angle_of(const Vec3& p, double h) { return std::atan2(p.z - h, p.y); }

}  // namespace

TEST_CASE("on a flat wall squares stand at whole steps from the centre line and the foot") {
  const auto squares = squares_on(*flat_wall(3.2, 2.1), 0.5);
  REQUIRE(squares.ok());
  CHECK(squares->least == Approx(1).margin(1e-6));
  CHECK(squares->greatest == Approx(1).margin(1e-6));
  // 1.6 m either side of the middle: lines at 0.1, 0.6, 1.1, 1.6, 2.1, 2.6, 3.1; and levels at 0.5, 1, 1.5, 2.
  REQUIRE(squares->lines.size() == 11);
  for (int k = 0; k < 7; ++k) {
    const SquareLine& line = squares->lines[static_cast<std::size_t>(k)];
    CHECK(line.upright);
    CHECK(line.name == std::string(1, static_cast<char>('A' + k)));
    CHECK(line.at == Approx(0.1 + 0.5 * k).margin(1e-6));
  }
  CHECK(named(*squares, "4")->at == Approx(2).margin(1e-6));
  CHECK(words_of(*squares) == "squares of 0.5 m");
}

TEST_CASE("on a barrel the level lines lie at true arc lengths") {
  // Semicircular, radius 2: the arc from the springing at angle t is 2 t (closed form).
  const double r = 2;
  const auto wall = barrel_wall(2 * r, 5, r);
  const auto squares = squares_on(*wall, 0.4);
  REQUIRE(squares.ok());
  int levels = 0;
  for (const SquareLine& line : squares->lines) {
    if (line.upright) continue;
    ++levels;
    const auto place = wall->position(line.stretches[0].from);
    REQUIRE(place);
    CHECK(r * angle_of(*place, 0) == Approx(0.4 * levels).margin(1e-4));
  }
  CHECK(levels == static_cast<int>(std::numbers::pi * r / 0.4));
  CHECK(squares->least == Approx(1).margin(1e-5));
  CHECK(squares->greatest == Approx(1).margin(1e-5));
}

TEST_CASE("on a dome squares are true on the middle row and the centre line, and it is told how far they are not") {
  // Radius 3, seen about the crown: on the chart's circle of colatitude t a level step measures sin t / t of what it
  // does in the chart (azimuthal equidistant projection; Snyder, "Map Projections: A Working Manual", 1987, ch. 25).
  const auto wall = dome_wall(6, 3);
  const auto squares = squares_on(*wall, 0.5);
  REQUIRE(squares.ok());
  const auto box = wall->chart->box();
  std::vector<double> uprights;
  for (const SquareLine& line : squares->lines)
    if (line.upright) uprights.push_back(line.at);
  for (std::size_t k = 0; k + 1 < uprights.size(); ++k) {
    const ChartPoint a{uprights[k], box.height / 2}, b{uprights[k + 1], box.height / 2};
    CHECK(wall->metric->measure(to_lattice(a), to_lattice(b)).length_m == Approx(0.5).margin(1e-5));
  }
  CHECK(squares->greatest <= 1 + 1e-4);
  CHECK(squares->least < 0.9);
  CHECK(words_of(*squares).find("on the wall") != std::string::npos);
}

TEST_CASE("lines are broken where the wall has openings, and left out beside it") {
  const auto spec = flat_spec(3, 2);
  const std::vector<Opening> window{
      {.kind = OpeningKind::rect, .at = {1.2, 0.7}, .width = 0.6, .height = 0.6, .outline = {}}};
  const auto wall = build_wall(spec, {}, "wall", 0, window).value();
  const auto squares = squares_on(*wall, 0.5);
  REQUIRE(squares.ok());
  CHECK(named(*squares, "2")->stretches.size() == 2);  // level 1.0 m, through the window
  CHECK(named(*squares, "1")->stretches.size() == 1);
}

TEST_CASE("more lines than can be drawn, and sides that are none, are refused") {
  const auto wall = flat_wall(10, 3);
  for (const double step : {0.0, -1.0, std::nan(""), 0.001}) CHECK_FALSE(squares_on(*wall, step).ok());
}
