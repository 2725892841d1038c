// A picture that was brought in: its pixels upright, in sRGB with opacity, as a pyramid of tiles, so that one of
// hundreds of megapixels is never whole in memory.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <string>

#include "engine/base/progress.h"
#include "engine/base/result.h"
#include "engine/picture/image.h"
#include "engine/picture/placement.h"

namespace pontata {

// Pixels row by row from the top: red, green, blue (not multiplied by opacity) and opacity, 0..255 each. A tile at the
// picture's right or lower edge goes on with the edge's pixels.
struct PictureTile {
  static constexpr int kSide = 256;
  std::vector<std::uint8_t> rgba;  // 4 * kSide * kSide
};

// Immutable; safe to read from several threads.
class PictureSource {
 public:
  virtual ~PictureSource() = default;
  PictureSize size() const { return size_; }
  // Level 0 is the picture; each next one is half as wide and high, rounded up, every pixel the mean of the up to four
  // beneath it (colours weighed by opacity); the last one fits a single tile.
  int levels() const;
  PictureSize size_of(int level) const;
  // Tile (i, j) of a level, counted from the upper left; i and j within the level.
  virtual std::shared_ptr<const PictureTile> tile(int level, int i, int j) const = 0;

 protected:
  explicit PictureSource(PictureSize size) : size_(size) {}
  PictureSize size_;
};
using PictureRef = std::shared_ptr<const PictureSource>;

// PNG, JPEG or TIFF, 8 or 16 bits a channel, grey or colour; turned upright by its orientation tag, converted to sRGB
// by its colour profile. One Problem naming the file for anything that cannot be shown truly: CMYK, truncated, empty,
// animated or of several pages, of another kind than its ending says, too large. Nothing is decoded before the header
// was found sound. Cancelled: Problem "stopped".
Result<PictureRef> read_picture(const std::string& path, Progress* progress = nullptr);

// Pixels already in memory, for small ones.
PictureRef picture_of(const Image& image);

}  // namespace pontata
