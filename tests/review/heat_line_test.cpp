// The heat line: every stretch that shows is in one of its grades, and nothing else.
#include "engine/review/heat_line.h"

#include <catch2/catch.hpp>

#include "tests/fixtures/layouts.h"

using namespace pontata;

namespace {

double length_of(std::span<const ChartPoint> line) {
  double length = 0;
  for (std::size_t k = 0; k + 1 < line.size(); ++k) length += glm::distance(to_vec(line[k]), to_vec(line[k + 1]));
  return length;
}

}  // namespace

TEST_CASE("grades rise, each darker and broader than the one before") {
  const auto light = [](std::uint32_t rgb) {  // relative luminance, IEC 61966-2-1, without its curve
    return 0.2126 * ((rgb >> 16) & 255) + 0.7152 * ((rgb >> 8) & 255) + 0.0722 * (rgb & 255);
  };
  const auto& grades = heat_grades();
  CHECK(grades[0].from_shows == 0);
  for (std::size_t k = 1; k < kHeatGrades; ++k) {
    CHECK(grades[k].from_shows > grades[k - 1].from_shows);
    CHECK(grades[k].width > grades[k - 1].width);
    CHECK(light(grades[k].rgb) < light(grades[k - 1].rgb) - 25);
    CHECK(heat_grade(grades[k].from_shows) == k);
    CHECK(heat_grade(grades[k].from_shows - 1e-9) == k - 1);
  }
  CHECK_FALSE(heat_grade(0));
  CHECK(heat_grade(1) == kHeatGrades - 1);
}

TEST_CASE("the heat line is as long as the seams that are seen, and graded by nearness to the eye") {
  // A flat wall 8 m long, one level seam: near the eye it shows more than far from it.
  auto layout = layouts::on(layouts::flat(8, 2));
  layouts::add_box(layout, 0, 0, 8, 1);
  layouts::add_box(layout, 0, 1, 8, 2);
  FloorInput input;
  input.wall = layout.wall;
  input.network = &layout.network;
  input.joint_mm = 2;
  const auto sights = seams_from(input, {"door", {0.5, -1.2, 1.6}});
  const auto lines = heat_lines(sights);
  double sum = 0, plain = 0;
  std::size_t before = kHeatGrades;
  for (const HeatLine& l : lines) {
    REQUIRE(l.line.size() >= 2);
    sum += length_of(l.line);
    if (l.grade + 1 == kHeatGrades) plain += length_of(l.line);
    CHECK(l.grade != before);  // neighbours of one grade are one line
    before = l.grade;
  }
  CHECK(sum == Approx(8).epsilon(1e-6));
  CHECK(plain > 1);
  CHECK(plain < 7);
  CHECK(heat_lines(seams_from(input, {"behind", {0.5, 3, 1.6}})).empty());
}
