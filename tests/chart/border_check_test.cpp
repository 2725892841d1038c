#include "engine/chart/border_check.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "engine/base/predicates.h"

using namespace pontata;

namespace {

// Every pair of edges, neighbours within a ring excepted.
bool crosses_by_pairs(const std::vector<Ring>& rings) {
  for (std::size_t r = 0; r < rings.size(); ++r)
    for (std::size_t q = r; q < rings.size(); ++q)
      for (std::size_t i = 0; i < rings[r].size(); ++i)
        for (std::size_t j = 0; j < rings[q].size(); ++j) {
          const std::size_t n = rings[r].size();
          if (r == q && (i == j || (i + 1) % n == j || (j + 1) % n == i)) continue;
          if (segments_meet(rings[r][i], rings[r][(i + 1) % n], rings[q][j], rings[q][(j + 1) % rings[q].size()]))
            return true;
        }
  return false;
}

Ring wavy(std::mt19937_64& rng, double u, double v, double radius, int n) {
  std::uniform_real_distribution<double> wave(0.7, 1.3);
  Ring ring;
  for (int i = 0; i < n; ++i) {
    const double r = radius * wave(rng), a = 2 * std::acos(-1) * i / n;
    ring.push_back(to_lattice({u + r * std::cos(a), v + r * std::sin(a)}));
  }
  return ring;
}

}  // namespace

TEST_CASE("borders that cross are found exactly when trying all pairs finds them") {
  std::mt19937_64 rng(51);
  std::uniform_real_distribution<double> place(0, 10);
  int crossing = 0, clear = 0;
  for (int i = 0; i < 400; ++i) {
    std::vector<Ring> rings;
    for (int k = 0; k < 4; ++k) rings.push_back(wavy(rng, place(rng), place(rng), 1.2, 3 + int(rng() % 40)));
    if (i % 3 == 0) std::swap(rings[0][0], rings[0][2]);
    const bool expected = crosses_by_pairs(rings);
    REQUIRE(find_border_crossing(rings).has_value() == expected);
    ++(expected ? crossing : clear);
  }
  CHECK(crossing > 50);
  CHECK(clear > 50);
}

TEST_CASE("borders that touch in a point or run back on themselves are crossings") {
  const auto at = [](std::int64_t x, std::int64_t y) { return LatticePoint{x * 1000, y * 1000}; };
  const Ring square{at(0, 0), at(4, 0), at(4, 4), at(0, 4)};
  CHECK_FALSE(find_border_crossing({square}));
  CHECK_FALSE(find_border_crossing({square, {at(1, 1), at(1, 2), at(2, 2)}}));
  CHECK(find_border_crossing({square, {at(4, 1), at(3, 2), at(3, 1)}}));                        // a corner on a side
  CHECK(find_border_crossing({{at(0, 0), at(4, 0), at(2, 0), at(2, 3)}}));                      // back along itself
  CHECK(find_border_crossing({{at(0, 0), at(2, 2), at(4, 0), at(4, 4), at(2, 2), at(0, 4)}}));  // a waist
}

TEST_CASE("every side that touches another is named, once") {
  const auto at = [](std::int64_t x, std::int64_t y) { return LatticePoint{x * 1000, y * 1000}; };
  const Ring square{at(0, 0), at(4, 0), at(4, 4), at(0, 4)};
  CHECK(border_crossings({square}).empty());
  // Triangles that stick out of the right side.
  CHECK(border_crossings({square, {at(2, 1), at(6, 2), at(2, 3)}}) == std::vector<BorderSide>{{0, 1}, {1, 0}, {1, 1}});
  CHECK(border_crossings({square, {at(3, 1), at(5, 2), at(3, 2)}}) == std::vector<BorderSide>{{0, 1}, {1, 0}, {1, 1}});
}
