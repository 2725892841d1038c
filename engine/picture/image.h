// Pictures as 8-bit RGB pixels, decoded by stb_image.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "engine/base/result.h"
#include "engine/base/vec.h"

namespace pontata {

struct Image {
  int width = 0, height = 0;
  std::vector<std::uint8_t> rgb;  // row by row from the top, 3 bytes a pixel
};

// PNG or JPEG. Refuses other files, truncated ones, and pictures over 120 megapixels, before their pixels are decoded.
Result<Image> read_image(const std::string& path);
std::string png_text(const Image& image);  // the bytes of a PNG file; empty for an empty picture
Outcome write_png(const Image& image, const std::string& path);

// Bilinear colour at pixel coordinates (x right, y down, pixel centres at half integers), 0..1 each.
Vec3 sample(const Image& image, double x, double y);

}  // namespace pontata
