#include "engine/picture/exif.h"

#include <cstddef>

namespace pontata {

int exif_orientation(std::span<const std::uint8_t> tiff) {
  if (tiff.size() < 8) return 1;
  const bool little = tiff[0] == 'I';
  const auto u16 = [&](std::size_t at) -> std::size_t {
    const std::size_t a = tiff[at], b = tiff[at + 1];
    return little ? a | (b << 8) : (a << 8) | b;
  };
  const auto u32 = [&](std::size_t at) {
    return little ? u16(at) | (u16(at + 2) << 16) : (u16(at) << 16) | u16(at + 2);
  };
  const std::size_t directory = u32(4);
  if (directory + 2 > tiff.size()) return 1;
  const std::size_t entries = u16(directory);
  for (std::size_t k = 0; k < entries && directory + 2 + 12 * (k + 1) <= tiff.size(); ++k) {
    const std::size_t entry = directory + 2 + 12 * k;
    if (u16(entry) != 0x0112) continue;
    const auto value = static_cast<int>(u16(entry + 8));
    return value >= 1 && value <= 8 ? value : 1;
  }
  return 1;
}

}  // namespace pontata
