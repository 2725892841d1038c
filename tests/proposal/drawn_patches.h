// A picture whose regions are known.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/picture/image.h"

namespace pontata {

// Patches of colour with wavy rims, some hundred pixels wide: regions known by their colours.
inline Image drawn_patches(int width, int height, int across, int up) {
  Image image;
  image.width = width;
  image.height = height;
  image.rgb.resize(static_cast<std::size_t>(3) * static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  static constexpr std::array<std::array<std::uint8_t, 3>, 7> kColours{
      {{200, 60, 50}, {60, 110, 190}, {235, 220, 170}, {70, 140, 80}, {120, 70, 130}, {240, 160, 60}, {90, 90, 90}}};
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x) {
      const double u = static_cast<double>(x) / width, v = static_cast<double>(y) / height;
      const int i = static_cast<int>(std::floor(across * u + 0.25 * std::sin(9 * v + 1))),
                j = static_cast<int>(std::floor(up * v + 0.25 * std::sin(8 * u + 2)));
      const auto& colour = kColours[static_cast<std::size_t>(((3 * i + 5 * j) % 7 + 7) % 7)];
      std::copy(colour.begin(), colour.end(), image.rgb.begin() + 3 * (static_cast<std::ptrdiff_t>(y) * width + x));
    }
  return image;
}

}  // namespace pontata
