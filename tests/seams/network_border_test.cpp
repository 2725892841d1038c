// Outlines brought to the border of real walls, and networks measured by the real metric.
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "engine/chart/charted_wall.h"
#include "tests/seams/network_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

WallRef barrel() { return build_wall(ShapeSpec{ShapeKind::barrel, 0, 0, 4, 6, 2}, {}, "barrel", 1e-3).value(); }
WallRef dome() { return build_wall(ShapeSpec{ShapeKind::dome, 0, 0, 4, 0, 2}, {}, "dome", 2e-3).value(); }

}  // namespace

TEST_CASE("outline points just outside the wall come to its border, farther ones are refused with the place") {
  const auto wall = barrel();  // chart 6 m x 6.2832 m
  const auto ring = bring_to_border(*wall, {{-0.004, 1}, {1, 1}, {1, 2}, {0.5, 2}});
  REQUIRE(ring.ok());
  CHECK((*ring)[0] == at(0, 1));
  CHECK((*ring)[1] == at(1, 1));
  const auto far = bring_to_border(*wall, {{1, 1}, {-0.012, 1}, {1, 2}});
  REQUIRE_FALSE(far.ok());
  CHECK(far.problem().message().find("12 mm outside") != std::string::npos);
  CHECK(far.problem().message().find("point 2") != std::string::npos);
  CHECK(bring_to_border(*wall, {{1, 1}, {-0.012, 1}, {1, 2}}, 0.02).ok());
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK_FALSE(bring_to_border(*wall, {{1, 1}, {nan, 1}, {1, 2}}).ok());
  CHECK_FALSE(bring_to_border(*wall, {{1, 1}, {1e300, 1}, {1, 2}}).ok());
  CHECK(bring_to_border(*wall, std::vector<ChartPoint>{})->empty());
}

TEST_CASE("giornate on a curved wall and their rest add up to it exactly, at the border too") {
  const auto wall = dome();
  const EdgeMeter meter = wall->metric->meter();
  Network n = Network::from_border(wall->chart->border_rings(), meter).value();
  // The metric's forms sum to the triangles' areas: 1e-13 m^2 per metre of rim, and half a unit per seam.
  CHECK(m2(n.wall_area()) == Approx(wall->metric->area()).margin(1e-9));
  const std::int64_t whole = n.wall_area();
  const double middle = wall->chart->box().width / 2;
  std::uint32_t id = 1;
  for (int k = 0; k < 12; ++k) {
    // Rings of overlapping outlines, many reaching over the round border.
    std::vector<ChartPoint> outline;
    for (int i = 0; i < 24; ++i) {
      const double a = 2 * M_PI * i / 24, b = 2 * M_PI * k / 12;
      const Vec2 p(2.3 * std::cos(b) + 0.95 * std::cos(a), 2.3 * std::sin(b) + 0.95 * std::sin(a));
      outline.push_back({middle + p.x, middle + p.y});
    }
    const auto ring = bring_to_border(*wall, outline, 1.0);
    REQUIRE(ring.ok());
    auto made = insert_outline(n, *ring, {id}, meter);
    if (!made) FAIL(made.problem().message());
    n = made->network;
    ++id;
    const auto faults = n.check();
    for (const auto& f : faults) UNSCOPED_INFO(f.message());
    REQUIRE(faults.empty());
    REQUIRE(n.wall_area() == whole);
    REQUIRE(area_of_all(n) == whole);
  }
  // Twelve alike by turning; the first is whole, the last gives way on both sides.
  CHECK(area_of(n, {1}) > area_of(n, {2}));
  CHECK(m2(area_of(n, {3})) == Approx(m2(area_of(n, {7}))).epsilon(0.02));
}
