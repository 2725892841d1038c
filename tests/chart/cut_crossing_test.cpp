#include "engine/chart/cut_crossing.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "engine/base/predicates.h"
#include "engine/chart/cut_runs.h"
#include "tests/fixtures/turns.h"

using namespace pontata;
using fixtures::Turn;
using fixtures::turn_wall;

namespace {

std::vector<LatticePoint> lattice(const std::vector<ChartPoint>& places) {
  std::vector<LatticePoint> out;
  for (const ChartPoint& p : places) out.push_back(to_lattice(p));
  return out;
}

std::vector<CutPiece> led(const WallRef& wall, const std::vector<ChartPoint>& places, bool closed) {
  const auto wrapped = wrap_places(*wall->chart, places);
  return lead_across(*wall, lattice(wrapped.places), wrapped.turned, closed).value();
}

double chart_area(const std::vector<Ring>& rings) {
  double sum = 0;
  for (const Ring& ring : rings) sum += 0.5 * kPitch * kPitch * std::abs(static_cast<double>(twice_area(ring)));
  return sum;
}

double ring_area(const WallRef& wall, const std::vector<ChartPoint>& places) {
  const auto rings = close_along_cuts(*wall->chart, led(wall, places, true));
  REQUIRE(rings);
  return chart_area(*rings);
}

}  // namespace

TEST_CASE("the two sides of a drum's cut correspond by a shift, those of a cone's by a turn") {
  const auto drum = turn_wall({});
  const auto runs = cut_runs(*drum->chart);
  REQUIRE(runs.size() == 2);
  for (const auto& run : runs) {
    REQUIRE(run.motion);
    REQUIRE(run.motion->steps);
    CHECK(std::abs(run.motion->steps->x) == to_lattice({16, 0}).x);
    CHECK(run.motion->steps->y == 0);
    CHECK(run.edges.size() == 8);
  }
  const auto cone = turn_wall({.slope = 0.3});
  const auto sides = cut_runs(*cone->chart);
  REQUIRE(sides.size() == 2);
  for (const auto& run : sides) {
    REQUIRE(run.motion);
    CHECK_FALSE(run.motion->steps);
    CHECK(std::abs(std::atan2(run.motion->sine, run.motion->cosine)) ==
          Approx(2 * std::numbers::pi * 0.3).epsilon(1e-7));
  }
  CHECK(cut_runs(*turn_wall({.slope = 0})->chart).size() == 2);
}

TEST_CASE("between two places the line takes the shorter way") {
  const auto wall = turn_wall({});
  CHECK(led(wall, {{3, 1}, {9, 1}}, false).size() == 1);
  CHECK(led(wall, {{1, 1}, {8.9, 1}}, false).size() == 1);  // 7.9 of 16 m
  const auto across = led(wall, {{15, 0.5}, {1, 1}}, false);
  REQUIRE(across.size() == 2);
  CHECK(across[0].points.back() == to_lattice({16, 0.75}));  // straight when unrolled on
  CHECK(across[1].points.front() == to_lattice({0, 0.75}));
  CHECK(across[0].ends);
  CHECK(across[1].begins);
  CHECK(length_of(*wall, across, false) == Approx(std::hypot(2, 0.5)).epsilon(2e-3));
}

TEST_CASE("on a cone the line across the cut is straight in the developed sector") {
  const Turn turn{.slope = 0.3};
  const auto wall = turn_wall(turn);
  const auto place = [&](std::size_t column, std::size_t row) {
    return to_chart(wall->chart->places()[column * 9 + row]);
  };
  const auto across = led(wall, {place(60, 2), place(6, 4)}, false);
  REQUIRE(across.size() == 2);
  // By the law of cosines in the sector: angle 10/64 of the turn's, distances from the apex.
  const double apex = turn.radius() / turn.slope, a = apex - 0.5, b = apex - 1;
  const double angle = 2 * std::numbers::pi * turn.slope * 10 / 64;
  CHECK(length_of(*wall, across, false) ==
        Approx(std::sqrt(a * a + b * b - 2 * a * b * std::cos(angle))).epsilon(1e-3));
}

TEST_CASE("a place beyond the cut is one turn back and reached as drawn") {
  const auto wall = turn_wall({});
  const auto wrapped = wrap_places(*wall->chart, std::vector<ChartPoint>{{16.25, 1}, {-0.5, 1}, {3, 1}, {3, 2.001}});
  CHECK(wrapped.places[0] == ChartPoint{0.25, 1});
  CHECK(wrapped.places[1] == ChartPoint{15.5, 1});
  CHECK(wrapped.places[2] == ChartPoint{3, 1});
  CHECK(wrapped.places[3] == ChartPoint{3, 2.001});           // above the wall, not beyond the cut
  const auto round = led(wall, {{1, 1}, {16.25, 1}}, false);  // nearly all round, as drawn
  REQUIRE(round.size() == 2);
  CHECK(length_of(*wall, round, false) == Approx(15.25).epsilon(2e-3));
  const auto back = led(wall, {{15, 1}, {16.5, 1.5}, {15, 1.75}}, true);
  REQUIRE(back.size() == 2);
  CHECK(chart_area(close_along_cuts(*wall->chart, back).value()) == Approx(0.5625).epsilon(1e-9));
}

TEST_CASE("a closed line is closed along the stretches of cut inside it") {
  const auto wall = turn_wall({});
  CHECK(ring_area(wall, {{15, 0.5}, {1, 0.5}, {1, 1.5}, {15, 1.5}}) == Approx(2));
  CHECK(ring_area(wall, {{15, 1.5}, {1, 1.5}, {1, 0.5}, {15, 0.5}}) == Approx(2));
  // An E that crosses three times on each side.
  const std::vector<ChartPoint> e{{15, 0.25}, {1, 0.25}, {1, 0.5},     {15.5, 0.5}, {15.5, 0.75}, {1, 0.75},
                                  {1, 1},     {15.5, 1}, {15.5, 1.25}, {1, 1.25},   {1, 1.5},     {15, 1.5}};
  CHECK(ring_area(wall, e) == Approx(2 * 1.25 - 2 * 0.25 * 1.5));
  const auto rings = close_along_cuts(*wall->chart, led(wall, e, true)).value();
  CHECK(rings.size() == 4);
}

TEST_CASE("rings along a cut open into the corners of the line that was closed") {
  const auto drawn_again = [](const WallRef& wall, const std::vector<ChartPoint>& places) {
    const auto rings = close_along_cuts(*wall->chart, led(wall, places, true)).value();
    REQUIRE(rings.size() > 1);
    std::vector<Ring> turned = rings;
    for (Ring& ring : turned)
      if (twice_area(ring) < 0) std::reverse(ring.begin(), ring.end());
    const auto opened = opened_along_cuts(*wall->chart, turned);
    REQUIRE(opened);
    auto corners = lattice(places);  // counter-clockwise
    const auto first = std::find(corners.begin(), corners.end(), opened->front());
    REQUIRE(first != corners.end());
    std::rotate(corners.begin(), first, corners.end());
    CHECK(*opened == corners);
  };
  const auto drum = turn_wall({});
  drawn_again(drum, {{15, 0.5}, {1, 0.5}, {1, 1.5}, {15, 1.5}});
  drawn_again(drum, {{15, 0.25}, {1, 0.25}, {1, 0.5}, {15.5, 0.5}, {15.5, 0.75}, {1, 0.75}, {1, 1}, {15, 1}});
  const auto cone = turn_wall({.slope = 0.3});
  const auto place = [&](std::size_t column, std::size_t row) {
    return to_chart(cone->chart->places()[column * 9 + row]);
  };
  drawn_again(cone, {place(60, 2), place(4, 2), place(4, 5), place(60, 5)});
  // Rings that lie nowhere along the cut are no parts of one line.
  const std::vector<Ring> apart{lattice({{3, 0.5}, {5, 0.5}, {5, 1.5}}), lattice({{8, 0.5}, {9, 0.5}, {9, 1.5}})};
  CHECK_FALSE(opened_along_cuts(*drum->chart, apart));
}

TEST_CASE("places on the cut itself belong to either side") {
  const auto wall = turn_wall({});
  CHECK(ring_area(wall, {{0.5, 0.5}, {16, 0.5}, {16, 1.5}, {0.5, 1.5}}) == Approx(0.5));
  CHECK(ring_area(wall, {{15.5, 0.5}, {0, 0.5}, {0, 1.5}, {15.5, 1.5}}) == Approx(0.5));
  CHECK(ring_area(wall, {{0.5, 0.5}, {16, 1}, {0.5, 1.5}}) == Approx(0.25));
  CHECK(ring_area(wall, {{15.5, 1}, {16, 0.5}, {0.5, 1}, {0, 1.5}}) == Approx(0.5));
  CHECK(close_along_cuts(*wall->chart, led(wall, {{0.5, 0.5}, {16, 1}, {0.5, 1.5}}, true)).value().size() == 1);
}

TEST_CASE("an outline that goes all the way round is refused with what to do") {
  const auto wall = turn_wall({});
  const auto rings = close_along_cuts(*wall->chart, led(wall, {{2, 1}, {7, 1}, {12, 1}}, true));
  REQUIRE_FALSE(rings);
  CHECK(rings.problem().what == "The outline goes all the way round the wall");
  CHECK_FALSE(rings.problem().remedy.empty());
  const auto band = close_along_cuts(*wall->chart, led(wall, {{0, 0.5}, {16, 0.5}, {16, 1.5}, {0, 1.5}}, true));
  REQUIRE_FALSE(band);
  CHECK(band.problem().what == "The outline encloses nothing");
}

TEST_CASE("without a cut a line stays one piece") {
  Turn open;
  const auto wall = turn_wall(open);
  const auto pieces = led(wall, {{3, 0.5}, {5, 0.5}, {5, 1.5}}, true);
  REQUIRE(pieces.size() == 1);
  CHECK_FALSE(pieces[0].begins);
  CHECK(close_along_cuts(*wall->chart, pieces).value().front() == lattice({{3, 0.5}, {5, 0.5}, {5, 1.5}}));
}
