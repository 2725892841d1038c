// What a TIFF file says of its picture, before any pixel is decoded.
//
// Based on: "TIFF Revision 6.0", 1992 (fields).
#pragma once

#include <string>
#include <vector>

#include "engine/picture/picture_decoder.h"
#include "engine/picture/tiff_file.h"

namespace pontata {

struct TiffFacts {
  std::uint16_t page = 0;  // the directory that holds the picture
  std::uint32_t width = 0, height = 0;
  std::uint16_t bits = 1, samples = 1;
  std::uint16_t photometric = 0;
  bool separate = false, tiled = false;
  bool by_jpeg = false;     // JPEG gives YCbCr as red, green, blue
  int opacity = -1;         // the sample that is opacity; -1: none. Extra samples that say nothing are passed over
  bool multiplied = false;  // opacity is multiplied into the colours
  int orientation = 1;
  std::vector<std::uint16_t> palette;  // red, green, blue one after another, 16 bits each
  std::string profile;
};

// A Problem for several pages (small copies and masks beside the picture are passed over), CMYK, rare kinds, no pixels,
// too many.
Result<TiffFacts> tiff_facts(const PictureFile& file, std::int64_t most);

}  // namespace pontata
