// What a JPEG file says before its coded pixels.
//
// Based on: ITU-T T.81, 1992, annex B (markers); JEITA CP-3451, "Exif", 2002 (in APP1); ICC.1:2010, annex B.4 (a
// profile in several APP2 segments).
#pragma once

#include <string>

#include "engine/picture/picture_decoder.h"

namespace pontata {

struct JpegFacts {
  int width = 0, height = 0;
  int bits = 8, components = 3;
  int coding = 0xc0;  // the start of frame marker: 0xc0, 0xc1 sequential, 0xc2 progressive
  int orientation = 1;
  std::string profile;
};

// Walks the segments up to the first scan. A Problem for what cannot be read: no pixels, too many, CMYK, other than 8
// bits, lossless or hierarchical coding, a profile with missing pieces, a file cut short or without a picture.
Result<JpegFacts> jpeg_facts(const PictureFile& file, std::int64_t most);

}  // namespace pontata
