// Walls with windows and walls that are not convex: seams may run round, along and across what is not wall.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "engine/base/predicates.h"
#include "engine/chart/walk.h"
#include "tests/fixtures/clipping.h"
#include "tests/fixtures/random_places.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// A shape without the triangles whose middle lies within one of the round windows or in the notch below the middle.
struct Window {
  double u, v, radius;
};
WallRef pierced(const ShapeSpec& spec, const std::vector<Window>& windows) {
  auto shape = tessellate(spec, {}, 1e-3);
  std::erase_if(shape.mesh.triangles, [&](const Triangle& t) {
    const Vec2 m = (shape.address[t[0]] + shape.address[t[1]] + shape.address[t[2]]) / 3.0;
    return std::any_of(windows.begin(), windows.end(),
                       [&](const Window& w) { return std::hypot(m.x - w.u, m.y - w.v) < w.radius; });
  });
  shape.mesh.corner_normals = shape.mesh.triangles;
  return chart_wall(std::make_shared<const SurfaceMesh>(std::move(shape.mesh)), shape.address, "pierced", false)
      .value();
}

std::vector<WallRef> pierced_walls() {
  return {pierced(barrel_spec(4, 6, 2), {{2, 2, 0.7}, {4.5, 4, 0.9}}),
          pierced(barrel_spec(4, 6, 1), {{3, 0, 1.2}, {3, 3, 0.8}}),
          pierced(apse_spec(5, 2), {{4, 2, 0.8}, {2, 2.5, 0.6}}),
          pierced(dome_spec(6, 3), {{4.7, 4.7, 0.8}, {6.5, 4.7, 0.5}})};
}

}  // namespace

TEST_CASE("a hole's rim holds no area") {
  for (const auto& wall : pierced_walls()) {
    const auto rings = wall->chart->border_rings();
    REQUIRE(rings.size() >= 2);
    for (std::size_t i = 1; i < rings.size(); ++i) {
      const auto sums = rim(*wall, rings[i]);
      CHECK(sums.area_m2 == 0);
      CHECK(sums.bend_m == 0);
      CHECK(sums.gauss == 0);
      CHECK(sums.length_m > 1);
    }
    CHECK(std::abs(rim(*wall, rings[0]).area_m2 - wall->metric->area()) < 1e-12);
  }
}

TEST_CASE("rings round, along and across windows and notches count the wall inside them only") {
  Random random(41);
  for (const auto& wall : pierced_walls()) {
    const auto rings = wall->chart->border_rings();
    for (int i = 0; i < 60; ++i) {
      Ring ring;
      for (std::size_t n = 3 + random.below(6); ring.size() < n;) {
        const auto& border = rings[random.below(rings.size())];
        ring.push_back(random.below(2) == 0 ? any_place(*wall, random) : border[random.below(border.size())]);
      }
      const auto sums = rim(*wall, ring);
      const auto clipped = clipped_terms(*wall, ring);
      CAPTURE(i, ring.size(), clipped.area);
      REQUIRE(std::abs(sums.area_m2 - clipped.area) < 1e-9);
      REQUIRE(std::abs(sums.bend_m - clipped.bend) < 1e-9);
      REQUIRE(std::abs(sums.gauss - clipped.gauss) < 1e-9);
    }
  }
}

TEST_CASE("a straight line over a window goes round its rim and stays on the wall") {
  const auto wall = pierced(barrel_spec(4, 6, 2), {{3, 3, 1}});
  const auto pieces = walk(*wall->chart, to_lattice({1, 3.01}), to_lattice({5, 3.01}));
  double length = 0;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const auto from = position(wall->mesh(), {pieces[i].triangle, pieces[i].from});
    const auto to = position(wall->mesh(), {pieces[i].triangle, pieces[i].to});
    if (i > 0) REQUIRE(glm::length(from - position(wall->mesh(), {pieces[i - 1].triangle, pieces[i - 1].to})) < 1e-12);
    length += glm::length(to - from);
  }
  const double round = rim(*wall, wall->chart->border_rings()[1]).length_m;  // a jagged rim
  CHECK(length == Approx(2 + round / 2).epsilon(0.15));
}
