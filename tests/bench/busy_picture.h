// A picture with contours everywhere, made without files.
#pragma once

#include <algorithm>
#include <cmath>
#include <random>

#include "engine/picture/image.h"

namespace pontata::bench {

// Overlapping wavy blobs of flat colour with grain, `side` pixels wide and high: as many to an area at any size.
inline Image busy_picture(int side) {
  Image image{side, side,
              std::vector<std::uint8_t>(3 * static_cast<std::size_t>(side) * static_cast<std::size_t>(side), 200)};
  std::mt19937 rng(11);
  const auto random = [&](double a, double b) { return a + (b - a) * static_cast<double>(rng()) / 4294967295.0; };
  const int blobs = std::max(1, static_cast<int>(260.0 * side * side / (4096.0 * 4096)));
  for (int blob = 0; blob < blobs; ++blob) {
    const double x0 = random(0, side), y0 = random(0, side), radius = random(60, 420), wave = random(0, 0.3);
    const int lobes = 2 + static_cast<int>(rng() % 6);
    const std::uint8_t colour[3] = {static_cast<std::uint8_t>(rng()), static_cast<std::uint8_t>(rng()),
                                    static_cast<std::uint8_t>(rng())};
    const int reach = static_cast<int>(radius * 1.3) + 1;
    for (int y = std::max(0, static_cast<int>(y0) - reach); y < std::min(side, static_cast<int>(y0) + reach); ++y) {
      for (int x = std::max(0, static_cast<int>(x0) - reach); x < std::min(side, static_cast<int>(x0) + reach); ++x) {
        const double dx = x - x0, dy = y - y0;
        if (std::hypot(dx, dy) > radius * (1 + wave * std::cos(lobes * std::atan2(dy, dx)))) continue;
        std::copy(colour, colour + 3, image.rgb.begin() + 3 * (std::ptrdiff_t{y} * side + x));
      }
    }
  }
  for (auto& c : image.rgb) c = static_cast<std::uint8_t>(std::clamp<int>(c + static_cast<int>(rng() % 9) - 4, 0, 255));
  return image;
}

}  // namespace pontata::bench
