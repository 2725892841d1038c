// Pictures as JPEG files in memory.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/picture/image.h"

namespace pontata {

// Baseline JPEG (ISO/IEC 10918-1) with colours at half the resolution and codes made for this picture; the same picture
// gives the same bytes. `quality` 1..100. Sides of 1 to 65,500 dots; some 10 ms a million dots.
std::vector<std::uint8_t> jpeg_of(const Image& image, int quality);

}  // namespace pontata
