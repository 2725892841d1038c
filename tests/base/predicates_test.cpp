#include "engine/base/predicates.h"

#include <algorithm>
#include <random>

#include <catch2/catch.hpp>

using namespace pontata;

namespace {
constexpr std::int64_t kFar = kLatticeLimit - 1;
Ring square(std::int64_t lo, std::int64_t hi) { return {{lo, lo}, {hi, lo}, {hi, hi}, {lo, hi}}; }
}  // namespace

TEST_CASE("orient is exact at the ends of the lattice") {
  // One pitch off a diagonal of the whole lattice: doubles cannot tell.
  CHECK(side({-kFar, -kFar}, {kFar, kFar}, {kFar - 1, kFar - 1}) == 0);
  CHECK(side({-kFar, -kFar}, {kFar, kFar}, {kFar - 1, kFar}) == 1);
  CHECK(side({-kFar, -kFar}, {kFar, kFar}, {kFar, kFar - 1}) == -1);
}

TEST_CASE("metres to the lattice and back are exact for lattice places") {
  std::mt19937_64 rng(7);
  std::uniform_int_distribution<std::int64_t> place(-kFar, kFar);
  for (int i = 0; i < 10000; ++i) {
    const LatticePoint p{place(rng), place(rng)};
    REQUIRE(to_lattice(to_chart(p)) == p);
  }
  CHECK_FALSE(fits_lattice({5000, 0}));
  CHECK_FALSE(fits_lattice({0, std::nan("")}));
}

TEST_CASE("segments meet at ends, cross inside, and miss") {
  CHECK(segments_cross({0, 0}, {4, 4}, {0, 4}, {4, 0}));
  CHECK_FALSE(segments_cross({0, 0}, {4, 4}, {4, 4}, {8, 0}));
  CHECK(segments_meet({0, 0}, {4, 4}, {4, 4}, {8, 0}));
  CHECK(segments_meet({0, 0}, {8, 0}, {4, 0}, {4, 5}));
  CHECK(segments_meet({0, 0}, {8, 0}, {2, 0}, {6, 0}));
  CHECK_FALSE(segments_meet({0, 0}, {8, 0}, {9, 0}, {12, 0}));
  CHECK_FALSE(segments_meet({0, 0}, {8, 0}, {0, 1}, {8, 1}));
}

TEST_CASE("point in ring: inside, on it, outside, and level with a corner") {
  const Ring ring{{0, 0}, {10, 0}, {10, 10}, {5, 5}, {0, 10}};
  CHECK(point_in_ring(ring, {5, 4}) == 1);
  CHECK(point_in_ring(ring, {5, 5}) == 0);
  CHECK(point_in_ring(ring, {5, 6}) == -1);
  CHECK(point_in_ring(ring, {1, 5}) == 1);
  CHECK(point_in_ring(ring, {-1, 5}) == -1);
  CHECK(point_in_ring(ring, {11, 10}) == -1);
  CHECK(point_in_ring(ring, {0, 3}) == 0);
}

TEST_CASE("twice the area of the greatest square") {
  const auto area = twice_area(square(-kFar, kFar));
  CHECK((area == static_cast<Int128>(2 * kFar) * (2 * kFar) * 2));
}

TEST_CASE("directions sort counter-clockwise from the x axis") {
  std::vector<LatticePoint> around{{1, 0}, {2, 1}, {0, 3}, {-1, 1}, {-5, 0}, {-1, -1}, {0, -2}, {3, -1}};
  const auto sorted = around;
  std::mt19937 rng(3);
  std::shuffle(around.begin(), around.end(), rng);
  std::sort(around.begin(), around.end(), [](auto b, auto c) { return compare_angle({0, 0}, b, c) < 0; });
  CHECK(around == sorted);
  CHECK(compare_angle({0, 0}, {1, 2}, {2, 4}) == 0);
  CHECK(compare_angle({0, 0}, {1, 2}, {-1, -2}) < 0);
}

TEST_CASE("self-crossing is found against trying every pair") {
  std::mt19937_64 rng(11);
  std::uniform_int_distribution<std::int64_t> place(0, 40);
  int crossing = 0, simple = 0;
  for (int round = 0; round < 2000; ++round) {
    Ring ring(3 + round % 5);
    for (auto& p : ring) p = {place(rng), place(rng)};
    const std::size_t n = ring.size();
    bool bad = false;
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = i + 1; j < n; ++j) {
        const auto a = ring[i], b = ring[(i + 1) % n], c = ring[j], d = ring[(j + 1) % n];
        if (j == i + 1)
          bad |= on_segment(a, b, d) || on_segment(c, d, a);
        else if ((j + 1) % n == i)
          bad |= on_segment(a, b, c) || on_segment(c, d, b);
        else
          bad |= segments_meet(a, b, c, d);
      }
    REQUIRE((find_self_crossing(ring).first >= 0) == bad);
    bad ? ++crossing : ++simple;
  }
  CHECK(crossing > 200);
  CHECK(simple > 200);
}
