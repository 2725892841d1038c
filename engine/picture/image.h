// Small pictures as 8-bit RGB pixels, whole in memory.
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

// As read_picture() shows it (picture_source.h), over white where it is see-through; at most 120 megapixels.
Result<Image> read_image(const std::string& path);
std::string png_text(const Image& image);  // the bytes of a PNG file; empty for an empty picture
Outcome write_png(const Image& image, const std::string& path);

// Bilinear colour at pixel coordinates (x right, y down, pixel centres at half integers), 0..1 each.
Vec3 sample(const Image& image, double x, double y);

}  // namespace pontata
