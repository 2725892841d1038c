#include "editor/view/picture_pyramid.h"

#include <algorithm>

namespace pontata {
namespace {

Image halved(const Image& image) {
  Image out;
  out.width = std::max(1, image.width / 2);
  out.height = std::max(1, image.height / 2);
  out.rgb.resize(static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height) * 3);
  const auto at = [&](int x, int y, int c) {
    x = std::min(x, image.width - 1);
    y = std::min(y, image.height - 1);
    return static_cast<unsigned>(
        image.rgb[(static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width) + static_cast<std::size_t>(x)) *
                      3 +
                  static_cast<std::size_t>(c)]);
  };
  std::size_t i = 0;
  for (int y = 0; y < out.height; ++y)
    for (int x = 0; x < out.width; ++x)
      for (int c = 0; c < 3; ++c)
        out.rgb[i++] = static_cast<std::uint8_t>((at(2 * x, 2 * y, c) + at(2 * x + 1, 2 * y, c) +
                                                  at(2 * x, 2 * y + 1, c) + at(2 * x + 1, 2 * y + 1, c) + 2) /
                                                 4);
  return out;
}

}  // namespace

std::optional<Image> reduced_to(const Image& image, int limit) {
  if (image.width <= limit && image.height <= limit) return std::nullopt;
  Image out = halved(image);
  while (out.width > limit || out.height > limit) out = halved(out);
  return out;
}

}  // namespace pontata
