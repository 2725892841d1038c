// What a PNG file says beside its pixels, found by walking its chunks without decoding any.
//
// Based on: W3C, "Portable Network Graphics (PNG) Specification", 2003, sections 5 and 11; "PNG Specification, third
// edition", 2025, section 11.3 (eXIf, acTL).
#pragma once

#include <cstdint>
#include <string>

#include "engine/picture/picture_decoder.h"

namespace pontata {

struct PngFacts {
  int width = 0, height = 0;
  int bits = 8, colour_type = 2;  // as IHDR has them
  bool interlaced = false;
  bool see_through_colour = false;  // tRNS
  bool is_srgb = false;
  int orientation = 1;
  std::string profile;
  ColourNumbers numbers;
  std::uint32_t frames = 1;
};

// A Problem for a header that is damaged, too large a picture, an animation, a damaged profile, or a file cut short:
// every chunk up to IEND must lie within it. Check sums are left to the decoder.
Result<PngFacts> png_facts(const PictureFile& file, std::int64_t most);

}  // namespace pontata
