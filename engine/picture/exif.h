// Which way up a camera held the picture.
//
// Based on: JEITA CP-3451, "Exif", 2002 (tag 0x0112, orientation, in the first directory of a TIFF structure).
#pragma once

#include <cstdint>
#include <span>

namespace pontata {

// 1..8, from the TIFF structure of an Exif block; 1 when it holds none or is damaged.
int exif_orientation(std::span<const std::uint8_t> tiff);

}  // namespace pontata
