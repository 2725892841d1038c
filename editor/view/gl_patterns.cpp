#include "editor/view/gl_patterns.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <vector>

namespace pontata {
namespace {

constexpr int kSide = 64, kFine = 4;  // px of a period, and samples across a pixel

// Distance from x to the middle of its period, in periods.
double from_middle(double x) { return std::abs(x - std::floor(x) - 0.5); }

std::array<bool, 3> marks_at(double x, double y) {
  const double down = from_middle(x + y), up = from_middle(x - y);
  return {std::hypot(from_middle(x), from_middle(y)) < 0.16, down < 0.07, down < 0.08 || up < 0.08};
}

}  // namespace

GlTexture make_patterns() {
  std::vector<std::uint8_t> rgb;
  for (int j = 0; j < kSide; ++j)
    for (int i = 0; i < kSide; ++i) {
      std::array<int, 3> count{};
      for (int k = 0; k < kFine * kFine; ++k) {
        const auto marks = marks_at((i + (k % kFine + 0.5) / kFine) / kSide, (j + (k / kFine + 0.5) / kFine) / kSide);
        for (std::size_t c = 0; c < 3; ++c) count[c] += marks[c];
      }
      for (const int n : count) rgb.push_back(static_cast<std::uint8_t>(n * 255 / (kFine * kFine)));
    }
  GlTexture texture = make_texture();
  glBindTexture(GL_TEXTURE_2D, texture.get());
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, kSide, kSide, 0, GL_RGB, GL_UNSIGNED_BYTE, rgb.data());
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_NEAREST);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glGenerateMipmap(GL_TEXTURE_2D);
  return texture;
}

}  // namespace pontata
