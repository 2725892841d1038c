#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <random>

#include "tests/seams/hug_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

TEST_CASE("going back over the line takes it back; small loops are cut out") {
  const auto wall = flat_wall(1, 1);
  const auto ground = ground_of(wall);
  const std::vector<ChartPoint> back{{0.2, 0.2}, {0.8, 0.2}, {0.5, 0.2}, {0.5, 0.6}};
  const auto line = hug(ground, back, false);
  REQUIRE(line.ok());
  CHECK(line->line == std::vector<ChartPoint>{{0.2, 0.2}, {0.5, 0.2}, {0.5, 0.6}});
  const std::vector<ChartPoint> loop{{0.25, 0.25}, {0.6, 0.25}, {0.6, 0.3}, {0.5625, 0.3}, {0.5625, 0.1}, {0.8, 0.1}};
  const auto cut = hug(ground, loop, false);
  REQUIRE(cut.ok());
  CHECK(simple_line(cut->line));
  CHECK(cut->line == std::vector<ChartPoint>{{0.25, 0.25}, {0.5625, 0.25}, {0.5625, 0.1}, {0.8, 0.1}});
}

TEST_CASE("a stroke keeps off the line before it and finds another way") {
  const auto wall = flat_wall(1.2, 1);
  const auto figure = blob({0.6, 0.5}, 0.28, 0.1);
  const auto ground = drawn_ground(wall, {0.6, 0.5}, 0.8, figure);
  // Out along the contour to a click, then to a place back where the line came from, off the contour: the way back
  // along the contour would be the cheapest.
  const auto start = figure.at(0.0), tip = figure.at(0.12), back = figure.at(0.01);
  const std::vector<ChartPoint> points{start, tip, {back.u + 0.05, back.v}};
  const auto line = hug(ground, points, false);
  REQUIRE(line.ok());
  for (const auto& p : points) CHECK(holds(line->line, p));
  CHECK(simple_line(line->line));
  HugStroke first(ground, start, {});
  const auto before = first.to(tip).line;
  HugStroke second(ground, tip, {}, before);
  auto live = before;
  const auto rest = second.to(points[2]).line;
  live.insert(live.end(), rest.begin() + 1, rest.end());
  CHECK(simple_line(live));
  CHECK(HugStroke(ground, tip, {}).to(points[2]).share() > 0.6);  // without the line before it, it would run back
}

TEST_CASE("random clicks never give a line that crosses itself") {
  const auto wall = flat_wall(1, 1);
  const auto figure = blob({0.5, 0.5}, 0.25, 0.3);
  const auto ground = drawn_ground(wall, {0.5, 0.5}, 0.9, figure);
  std::mt19937 rng(12);
  std::uniform_real_distribution<double> place(0.08, 0.92);
  int drawn_lines = 0;
  for (int round = 0; round < 25; ++round) {
    std::vector<ChartPoint> points;
    for (int k = 0; k < 6; ++k) points.push_back({place(rng), place(rng)});
    const auto open = hug(ground, points, false), closed = hug(ground, points, true);
    if (open) {
      CHECK(simple_line(open->line));
      ++drawn_lines;
    } else {
      CHECK(open.problem().what.find("crosses itself") != std::string::npos);
    }
    if (closed) {
      CHECK(find_self_crossing(ring_of(closed->line)).first < 0);
      ++drawn_lines;
    } else {
      CHECK(closed.problem().what.find("crosses itself") != std::string::npos);
      CHECK_FALSE(closed.problem().where.empty());
    }
  }
  CHECK(drawn_lines > 20);
}

TEST_CASE("clicking past the beginning closes the outline where it met itself") {
  const auto wall = flat_wall(1.2, 1);
  const auto figure = blob({0.6, 0.5}, 0.28, 0.1);
  const auto ground = drawn_ground(wall, {0.6, 0.5}, 0.8, figure);
  auto points = clicks(figure, 10);
  points.push_back(figure.at(1.07));  // beyond the first click, which was at 0.03
  const auto line = hug(ground, points, true);
  REQUIRE(line.ok());
  CHECK(find_self_crossing(ring_of(line->line)).first < 0);
  CHECK(deviation(*wall, figure, line->line, true).mean < kNear);
  CHECK(line->length_m > 1.6);
}

TEST_CASE("clicks whose straight outline is simple always give an outline") {
  const auto wall = flat_wall(1, 1);
  // Bars close together: many ways for strokes to run into each other.
  std::vector<Vec2> comb{{0.1, 0.1}};
  for (int k = 0; k < 9; ++k) {
    const double u = 0.1 + 0.09 * k;
    comb.insert(comb.end(), {{u, 0.85}, {u + 0.03, 0.85}, {u + 0.03, 0.2}, {u + 0.09, 0.2}});
  }
  comb.push_back({0.91, 0.1});
  const auto ground = drawn_ground(wall, {0.5, 0.5}, 1, cornered(comb));
  std::mt19937 rng(5);
  std::uniform_real_distribution<double> reach(0.06, 0.44);
  HugOptions options;
  options.reach_m = 0.25;
  int hugged = 0;
  for (int round = 0; round < 40; ++round) {
    std::vector<ChartPoint> star;  // round the middle once: simple
    const int n = 5 + round % 8;
    for (int k = 0; k < n; ++k) {
      const double a = 2 * std::numbers::pi * k / n, r = reach(rng);
      star.push_back({0.5 + r * std::cos(a), 0.5 + r * std::sin(a)});
    }
    REQUIRE(find_self_crossing(ring_of(star)).first < 0);
    const auto line = hug(ground, star, true, options);
    INFO("round " << round << (line ? std::string() : ": " + line.problem().message()));
    CHECK(line.ok());
    if (!line) continue;
    CHECK(find_self_crossing(ring_of(line->line)).first < 0);
    if (line->share() > 0.5) ++hugged;
  }
  CHECK(hugged > 10);  // it is not all let go of
}
