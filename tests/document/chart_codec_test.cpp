#include "engine/document/chart_codec.h"

#include <catch2/catch.hpp>
#include <random>

using namespace pontata;

TEST_CASE("places come back bit for bit, at the ends of the lattice too") {
  std::mt19937_64 rng(3);
  std::uniform_int_distribution<std::int64_t> anywhere(-(kLatticeLimit - 1), kLatticeLimit - 1);
  for (int n = 0; n < 40; ++n) {
    std::vector<LatticePoint> places;
    for (int i = 0; i < n; ++i) places.push_back({anywhere(rng), anywhere(rng)});
    if (n > 2)
      places[1] = {kLatticeLimit - 1, -(kLatticeLimit - 1)}, places[2] = {-(kLatticeLimit - 1), kLatticeLimit - 1};
    const auto again = chart_from_text(chart_text(places));
    REQUIRE(again.ok());
    CHECK(*again == places);
  }
}

TEST_CASE("base 64 is that of RFC 4648") {
  // Section 10 gives "foob" as Zm9vYg==: bytes 102 111 111 98 are the zigzag integers 51, -56, -56, 49.
  CHECK(chart_text({{51, -56}, {51 - 56, -56 + 49}}) == "Zm9vYg==");
}

TEST_CASE("damaged places are refused") {
  const std::string good = chart_text({{5, 6}, {700000, -9}, {12, 13}});
  CHECK(chart_from_text(good).ok());
  CHECK_FALSE(chart_from_text(good.substr(0, good.size() - 1)).ok());
  CHECK_FALSE(chart_from_text("Zm9vYg=?").ok());
  CHECK_FALSE(chart_from_text("Zg==").ok());                      // one number of two
  CHECK_FALSE(chart_from_text("//////////////////8=").ok());      // an integer without end
  CHECK_FALSE(chart_from_text("gICAgICAQACAgICAgIBAAA==").ok());  // beyond the lattice
  CHECK(chart_from_text("")->empty());
}
