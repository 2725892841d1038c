#include "engine/picture/picture_file.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <string_view>

namespace pontata {

namespace {

using Bytes = std::span<const std::uint8_t>;

std::uint32_t big32(Bytes b, std::size_t at) {
  return (std::uint32_t{b[at]} << 24) | (std::uint32_t{b[at + 1]} << 16) | (std::uint32_t{b[at + 2]} << 8) | b[at + 3];
}
std::uint32_t big16(Bytes b, std::size_t at) { return (std::uint32_t{b[at]} << 8) | b[at + 1]; }

std::array<std::uint32_t, 256> crc_table() {
  std::array<std::uint32_t, 256> table{};
  for (std::uint32_t n = 0; n < 256; ++n) {
    std::uint32_t c = n;
    for (int k = 0; k < 8; ++k) c = (c & 1u) ? 0xedb88320u ^ (c >> 1) : c >> 1;
    table[n] = c;
  }
  return table;
}

std::uint32_t crc(Bytes bytes) {
  static const auto table = crc_table();
  std::uint32_t c = 0xffffffffu;
  for (const auto byte : bytes) c = table[(c ^ byte) & 0xffu] ^ (c >> 8);
  return c ^ 0xffffffffu;
}

// Chunks: length, type, data, CRC over type and data; the last is IEND.
bool png_whole(Bytes b) {
  std::size_t at = 8;
  while (at + 12 <= b.size()) {
    const std::size_t length = big32(b, at);
    if (length > b.size() || at + 12 + length > b.size()) return false;
    if (crc(b.subspan(at + 4, length + 4)) != big32(b, at + 8 + length)) return false;
    if (big32(b, at + 4) == 0x49454e44u) return true;
    at += 12 + length;
  }
  return false;
}

// Orientation from the body of an APP1 segment; 1 when it holds none.
int exif_orientation(Bytes b) {
  constexpr std::array<std::uint8_t, 6> head{'E', 'x', 'i', 'f', 0, 0};
  if (b.size() < 14 || !std::equal(head.begin(), head.end(), b.begin())) return 1;
  const Bytes tiff = b.subspan(6);
  const bool little = tiff[0] == 'I';
  const auto u16 = [&](std::size_t at) -> std::uint32_t {
    return little ? std::uint32_t{tiff[at]} | (std::uint32_t{tiff[at + 1]} << 8) : big16(tiff, at);
  };
  const auto u32 = [&](std::size_t at) { return little ? u16(at) | (u16(at + 2) << 16) : big32(tiff, at); };
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

// Markers: 0xff and a code, most with a two-byte length; after a start of scan the coded data runs to the next marker
// other than 0xff00 and the restarts.
void walk_jpeg(Bytes b, PictureFile& file) {
  std::size_t at = 2;
  while (at + 1 < b.size()) {
    if (b[at] != 0xff) {
      ++at;
      continue;
    }
    const auto code = b[at + 1];
    if (code == 0xd9) {
      file.whole = true;
      return;
    }
    if (code == 0xff) {
      ++at;
    } else if (code == 0 || code == 1 || (code >= 0xd0 && code <= 0xd8)) {
      at += 2;
    } else {
      if (at + 4 > b.size()) return;
      const std::size_t length = big16(b, at + 2);
      if (length < 2 || at + 2 + length > b.size()) return;
      if (code == 0xe1 && file.orientation == 1) file.orientation = exif_orientation(b.subspan(at + 4, length - 2));
      at += 2 + length;
    }
  }
}

}  // namespace

PictureFile look_at_file(Bytes bytes) {
  constexpr std::array<std::uint8_t, 8> png{0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n'};
  PictureFile file;
  if (bytes.size() >= 8 && std::equal(png.begin(), png.end(), bytes.begin())) {
    file.kind = PictureKind::png;
    file.whole = png_whole(bytes);
  } else if (bytes.size() >= 3 && bytes[0] == 0xff && bytes[1] == 0xd8 && bytes[2] == 0xff) {
    file.kind = PictureKind::jpeg;
    walk_jpeg(bytes, file);
  }
  return file;
}

}  // namespace pontata
