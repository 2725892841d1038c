#include "engine/giornate/edge_rows.h"

#include <catch2/catch.hpp>
#include <random>

#include "engine/base/predicates.h"
#include "engine/giornate/ring_overlap.h"

using namespace pontata;

namespace {

Ring box(std::int64_t x0, std::int64_t y0, std::int64_t x1, std::int64_t y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

}  // namespace

TEST_CASE("winding agrees with the test of one point in one ring") {
  std::mt19937 random(11);
  std::uniform_int_distribution<std::int64_t> coordinate(-40, 40);
  for (int trial = 0; trial < 60; ++trial) {
    Ring star;
    for (int k = 0; k < 17; ++k) {
      const double a = 2 * 3.141592653589793 * k / 17,
                   r = 10 + 30 * std::abs(static_cast<double>(coordinate(random))) / 40;
      star.push_back({std::llround(r * std::cos(a)), std::llround(r * std::sin(a))});
    }
    const std::vector<Ring> rings{star};
    const EdgeRows rows = EdgeRows::of_rings(rings);
    for (int k = 0; k < 100; ++k) {
      const LatticePoint p{coordinate(random), coordinate(random)};
      const int where = point_in_ring(star, p);
      if (where != 0) REQUIRE(rows.winding(p) == (where > 0 ? 1 : 0));
    }
  }
}

TEST_CASE("a hole unwinds its outer ring") {
  const Ring outer = box(0, 0, 100, 100);
  Ring inner = box(20, 20, 80, 80);
  std::reverse(inner.begin(), inner.end());
  const std::vector<Ring> rings{outer, inner};
  const EdgeRows rows = EdgeRows::of_rings(rings);
  CHECK(rows.winding({10, 50}) == 1);
  CHECK(rows.winding({50, 50}) == 0);
  CHECK(rows.winding({20, 100}) == 0);
  CHECK(rows.winding({150, 50}) == 0);
}

TEST_CASE("every edge of a height is visited once") {
  std::vector<ChartEdge> edges;
  for (std::uint32_t k = 0; k < 500; ++k) edges.push_back({{k, 3 * k}, {k, 3 * k + 50}, k});
  const EdgeRows rows(edges);
  for (const std::int64_t y : {0, 7, 600, 1200, 1546}) {
    std::vector<int> seen(500, 0);
    rows.visit(y, y + 4, [&](const ChartEdge& e) { ++seen[e.tag]; });
    for (std::uint32_t k = 0; k < 500; ++k) {
      REQUIRE(seen[k] <= 1);
      if (3 * k <= y + 4 && 3 * k + 50 >= y) REQUIRE(seen[k] == 1);
    }
  }
}

TEST_CASE("overlap and remainder of two areas make up the first") {
  const std::int64_t big = std::int64_t{1} << 38;  // beyond 2^30, where narrow arithmetic would overflow
  const std::vector<Ring> a{box(0, 0, big, big)};
  const std::vector<Ring> b{box(big / 2, big / 4, 2 * big, big / 2)};
  const auto twice = [](const std::vector<Ring>& rings) {
    Int128 sum = 0;
    for (const Ring& r : rings) sum += twice_area(r);
    return sum;
  };
  CHECK(twice(overlap(a, b)) == static_cast<Int128>(2) * (big / 2) * (big / 4));
  CHECK(twice(overlap(a, b)) + twice(without(a, b)) == twice(a));
  CHECK(overlap(a, std::vector<Ring>{box(-10, -10, -5, -5)}).empty());
  CHECK(without(a, std::vector<Ring>{box(-1, -1, big + 1, big + 1)}).empty());
}
