#include "engine/base/adaptive_coder.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>

using namespace pontata;

TEST_CASE("numbers of every size, reals and texts come back from their bytes") {
  std::mt19937_64 rng(3);
  std::vector<std::int64_t> numbers{0, 1, -1, std::numeric_limits<std::int64_t>::min(),
                                    std::numeric_limits<std::int64_t>::max()};
  for (int i = 0; i < 5000; ++i) numbers.push_back(static_cast<std::int64_t>(rng()) >> (rng() % 64));
  std::vector<double> reals{0.0, -0.0, 1e300, -5e-324, std::nan(""), std::numeric_limits<double>::infinity()};
  for (int i = 0; i < 200; ++i)
    reals.push_back(std::ldexp(static_cast<double>(rng()), static_cast<int>(rng() % 90) - 60));
  const std::vector<std::string> texts{"", "a", std::string("\0\xff é", 6), std::string(3000, 'x')};
  PackWriter writer;
  NumberChances number, near, real;
  TextChances text;
  Chance flag;
  for (const auto n : numbers) {
    code_number(writer, number, n);
    code_near(writer, near, std::int64_t{77}, n);
    writer.bit(flag, n % 3 == 0);
  }
  for (const double r : reals) code_real(writer, real, 1.0, r);
  for (const auto& t : texts) code_text(writer, text, t);

  PackReader reader(writer.bytes());
  number = near = real = {}, text = {}, flag = {};
  for (const auto n : numbers) {
    REQUIRE(code_number(reader, number) == n);
    REQUIRE(code_near(reader, near, std::int64_t{77}) == n);
    REQUIRE(reader.bit(flag) == (n % 3 == 0));
  }
  for (const double r : reals)
    REQUIRE(std::bit_cast<std::uint64_t>(code_real(reader, real, 1.0)) == std::bit_cast<std::uint64_t>(r));
  for (const auto& t : texts) REQUIRE(code_text(reader, text) == t);
}

TEST_CASE("carries run through bytes already written") {
  // Likely ones push the low end of the range up as far as it goes.
  for (int ones = 0; ones < 400; ++ones) {
    PackWriter writer;
    Chance a;
    for (int i = 0; i < ones; ++i) writer.bit(a, true);
    for (int i = 0; i < 40; ++i) writer.even_bit(true);
    PackReader reader(writer.bytes());
    Chance b;
    for (int i = 0; i < ones; ++i) REQUIRE(reader.bit(b));
    for (int i = 0; i < 40; ++i) REQUIRE(reader.even_bit());
  }
}

TEST_CASE("bits of a known chance take little more than their entropy") {
  // Shannon, "A mathematical theory of communication", 1948: H(p) bits each.
  std::mt19937 rng(11);
  for (const double p : {0.02, 0.2, 0.5}) {
    std::bernoulli_distribution coin(p);
    PackWriter writer;
    Chance chance;
    const int n = 20000;
    for (int i = 0; i < n; ++i) writer.bit(chance, coin(rng));
    const double entropy = -p * std::log2(p) - (1 - p) * std::log2(1 - p);
    CHECK(8.0 * static_cast<double>(writer.bytes().size()) < 1.12 * entropy * n + 64);
    CHECK(8.0 * static_cast<double>(writer.bytes().size()) > 0.95 * entropy * n);
  }
  PackWriter nothing;
  Chance chance;
  for (int i = 0; i < 20; ++i) nothing.bit(chance, false);
  CHECK(nothing.bytes().size() <= 2);
}
