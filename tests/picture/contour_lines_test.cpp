#include "engine/picture/contour_lines.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/fixtures/figures.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kSide = 0.24;  // m, a millimetre a sample

ContourField field_of(const Figure& figure) {
  const PictureFrame frame{{0, 0}, kSide, kSide, 0};
  return contour_field(*draped(flat_wall(kSide, kSide), drawn(frame, 240, 240, figure), frame));
}

double length_of(const std::vector<ChartPoint>& line) {
  double sum = 0;
  for (std::size_t k = 1; k < line.size(); ++k) sum += glm::length(to_vec(line[k]) - to_vec(line[k - 1]));
  return sum;
}

double most_off(const Figure& figure, const std::vector<ChartPoint>& line) {
  const auto wall = flat_wall(kSide, kSide);
  double most = 0;
  for (const auto& p : line) most = std::max(most, distance_to(*wall, figure, p));
  return most;
}

}  // namespace

// Closed forms: a circle's length is 2 pi r; a chord sags by its tolerance at most.
TEST_CASE("a disc's contour is one closed line of the circle's length") {
  for (const double radius : {0.012, 0.05, 0.0913}) {
    const Figure disc = blob({0.1213, 0.1192}, radius);
    const auto lines = contour_lines(field_of(disc));
    REQUIRE(lines.size() == 1);
    CHECK(lines[0].front() == lines[0].back());
    CHECK(length_of(lines[0]) == Approx(2 * M_PI * radius).epsilon(0.02));
    CHECK(most_off(disc, lines[0]) < 0.0004);
  }
}

TEST_CASE("a straight contour is a line of few points from rim to rim") {
  const Figure slanted = cornered({{-0.1, 0.031}, {0.4, 0.191}, {0.4, 0.5}, {-0.1, 0.5}});
  const auto lines = contour_lines(field_of(slanted));
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].size() <= 6);
  CHECK(length_of(lines[0]) == Approx(kSide * std::hypot(1, 0.32)).margin(0.004));
}

TEST_CASE("lines of a wavy figure keep within the tolerance, and a coarser one has fewer points") {
  const Figure wavy = blob({0.12, 0.12}, 0.08, 0.2);
  const auto field = field_of(wavy);
  const auto fine = contour_lines(field, {.tolerance = 0.0002, .least = 0.02});
  const auto coarse = contour_lines(field, {.tolerance = 0.004, .least = 0.02});
  REQUIRE(fine.size() == 1);
  REQUIRE(coarse.size() == 1);
  CHECK(coarse[0].size() < fine[0].size() / 2);
  CHECK(most_off(wavy, fine[0]) < 0.0006);
}

TEST_CASE("every contour is drawn once: three figures, three lines, longest first, none shorter than asked") {
  Figure three = blob({0.06, 0.06}, 0.03);
  const Figure big = blob({0.16, 0.16}, 0.06), tiny = blob({0.2, 0.05}, 0.004);
  const auto first = three.inside;
  three.inside = [=](Vec2 p) { return first(p) || big.inside(p) || tiny.inside(p); };
  const auto field = field_of(three);
  const auto all = contour_lines(field, {.tolerance = 0.0002, .least = 0.01});
  REQUIRE(all.size() == 3);
  CHECK(length_of(all[0]) == Approx(2 * M_PI * 0.06).epsilon(0.02));
  CHECK(length_of(all[1]) == Approx(2 * M_PI * 0.03).epsilon(0.02));
  CHECK(contour_lines(field, {.tolerance = 0.0002, .least = 0.1}).size() == 2);
  CHECK(contour_lines(field, {.tolerance = 0.0002, .least = 1}).empty());
}

TEST_CASE("no field, no lines") { CHECK(contour_lines({}).empty()); }
