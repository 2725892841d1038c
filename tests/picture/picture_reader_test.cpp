#include "engine/picture/picture_reader.h"

#include <catch2/catch.hpp>

#include "tests/fixtures/pictures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

Footprint square(double side, const PictureSource& picture) {
  return Footprint::of({side, 0}, {0, side}, picture.levels());
}

// Variance in px^2 of the weight with which a bright column counts, over all places of the reading.
double spread(PictureReader& reader, const Footprint& footprint, double column) {
  double sum = 0, square = 0;
  for (double x = column - 120; x <= column + 120; x += 0.125) {
    const auto w = static_cast<double>(reader.at({x, 300}, footprint)[0]);
    sum += w;
    square += w * (x - column) * (x - column);
  }
  return square / sum;
}

}  // namespace

TEST_CASE("a reading spreads as far as the mean over the sample does") {
  // A box of r pixels and the pixel's own box: (r^2 + 1) / 12, for continuous places.
  const auto picture = ruled({1024, 600}, [](int x, int) {
    return std::array<std::uint8_t, 4>{static_cast<std::uint8_t>(x == 511 ? 255 : 0), 0, 0, 255};
  });
  PictureReader reader(picture);
  for (const double r : {1.0, 1.3, 2.0, 3.0, 3.2, 4.7, 6.7}) {
    CAPTURE(r);
    CHECK(spread(reader, square(r, *picture), 511.5) == Approx((r * r + 1) / 12).epsilon(0.03));
  }
  // Finer than the picture: bilinear, the tent's variance.
  CHECK(spread(reader, square(0.2, *picture), 511.5) == Approx(1.0 / 6).epsilon(0.03));
}

TEST_CASE("a long footprint is read along itself and stays sharp across") {
  const auto picture = ruled({1024, 600}, [](int x, int) {
    return std::array<std::uint8_t, 4>{static_cast<std::uint8_t>(x == 511 ? 255 : 0), 0, 0, 255};
  });
  PictureReader reader(picture);
  const auto upright = Footprint::of({1, 0}, {0, 6}, picture->levels());
  CHECK(upright.level == 0);
  CHECK(spread(reader, upright, 511.5) == Approx(1.0 / 6).epsilon(0.03));
  const auto lying = Footprint::of({6, 0}, {0, 1}, picture->levels());
  CHECK(spread(reader, lying, 511.5) == Approx(37.0 / 12).epsilon(0.03));
}

TEST_CASE("even colours and ramps are read as they are, whatever the footprint") {
  const auto even = plain({200, 100, 50, 128}, {700, 500});
  const auto ramp = ruled({1020, 300}, [](int x, int) {  // a step of one in four pixels, even to the eighth
    return std::array<std::uint8_t, 4>{static_cast<std::uint8_t>(x / 4), 0, 0, 255};
  });
  PictureReader of_even(even), of_ramp(ramp);
  for (const auto& [a, b] : {std::pair{Vec2(0.3, 0), Vec2(0, 0.3)},
                             {Vec2(2, 1), Vec2(-1, 2)},
                             {Vec2(9, 0), Vec2(1, 1)},
                             {Vec2(30, 4), Vec2(-5, 20)}}) {
    const auto c = of_even.at({311.2, 207.9}, Footprint::of(a, b, even->levels()));
    CHECK(static_cast<double>(c[3]) == Approx(128 / 255.0).margin(1e-6));
    CHECK(static_cast<double>(c[0]) == Approx(200 * 128 / 65025.0).margin(1e-6));
    CHECK(static_cast<double>(c[2]) == Approx(50 * 128 / 65025.0).margin(1e-6));
    // x / 4 rounded down has a mean of (x - 1.5) / 4 at pixel x, whose middle is x + 1/2; levels round to whole steps.
    for (const double x : {311.2, 512.0, 640.5}) {
      const auto r = of_ramp.at({x, 150}, Footprint::of(a, b, ramp->levels()));
      CHECK(static_cast<double>(r[0]) * 255 == Approx((x - 2) / 4).margin(glm::length(a) > 20 ? 0.51 : 0.8));
    }
  }
}

TEST_CASE("a wholly transparent pixel lends none of its colour") {
  const auto half = ruled({600, 600}, [](int x, int) {
    return x < 300 ? std::array<std::uint8_t, 4>{255, 0, 0, 0} : std::array<std::uint8_t, 4>{0, 0, 200, 255};
  });
  PictureReader reader(half);
  for (const double r : {0.5, 1.7, 5.0})
    for (const double x : {298.0, 299.6, 300.0, 300.4, 302.0}) {
      const auto c = reader.at({x, 300}, square(r, *half));
      CHECK(c[0] == 0);
      CHECK(static_cast<double>(c[2]) == Approx(static_cast<double>(c[3]) * 200 / 255).margin(1e-6));
    }
}

TEST_CASE("tiles of the picture meet without a seam, and its edge goes on beyond it") {
  const auto picture = ramps({256 + 200, 256});
  PictureReader reader(picture);
  const Footprint fine = square(0.5, *picture);
  // Red wraps from 255 to 0 at pixel 256: between the middles it runs linearly.
  CHECK(static_cast<double>(reader.at({256.0, 100.5}, fine)[0]) * 255 == Approx(127.5).margin(1e-3));
  CHECK(static_cast<double>(reader.at({256.25, 100.5}, fine)[0]) * 255 == Approx(63.75).margin(1e-3));
  CHECK(static_cast<double>(reader.at({-90.0, 100.5}, fine)[0]) * 255 == Approx(0).margin(1e-3));
  CHECK(static_cast<double>(reader.at({900.0, 100.5}, fine)[0]) * 255 == Approx(199).margin(1e-3));
  CHECK(static_cast<double>(reader.at({100.5, 1e6}, fine)[1]) * 255 == Approx(255).margin(1e-3));
}
