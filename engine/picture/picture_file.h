// The outside of a PNG or JPEG file, looked at before its pixels are decoded: which kind it is, whether all of it is
// there, and which way up a camera held it. The decoder itself fills missing parts of a JPEG with grey and says
// nothing.
//
// Based on: W3C, "Portable Network Graphics (PNG) Specification", 2003, section 5 (chunks and their CRC);
// ITU-T T.81, 1992, annex B (JPEG markers); JEITA CP-3451, "Exif", 2002 (tag 0x0112, orientation).
#pragma once

#include <cstdint>
#include <span>

namespace pontata {

enum class PictureKind { other, png, jpeg };

struct PictureFile {
  PictureKind kind = PictureKind::other;
  bool whole = false;   // every part up to the end mark is there; a PNG's check sums agree
  int orientation = 1;  // 1..8 as Exif counts: 1 upright, 3 upside down, 6 and 8 quarter turns, even ones mirrored
};

PictureFile look_at_file(std::span<const std::uint8_t> bytes);

}  // namespace pontata
