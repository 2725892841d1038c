// One picture file as rows of pixels, whatever its kind: as it was stored, neither turned nor converted.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>

#include "engine/base/progress.h"
#include "engine/base/result.h"
#include "engine/picture/picture_file.h"

namespace pontata {

// Where colours are told by numbers instead of a profile (PNG gAMA and cHRM).
struct ColourNumbers {
  std::optional<double> gamma;                  // of the file: sample = light ^ gamma
  std::optional<std::array<double, 8>> places;  // white x y, red x y, green x y, blue x y (CIE 1931)
};

// What a file says of itself before any pixel is decoded.
struct PictureHead {
  std::string path;
  int width = 0, height = 0;  // as stored
  int colours = 3;            // 1 grey, 3 red green blue
  bool opacity = false;       // one more channel, not multiplied into the colours
  int bits = 8;               // 8 or 16 a channel
  int orientation = 1;        // 1..8 as Exif and TIFF count: 1 upright, 3 upside down, 6 and 8 quarter turns
  std::string profile;        // ICC profile; empty: sRGB, or by the numbers
  ColourNumbers numbers;

  int channels() const { return colours + (opacity ? 1 : 0); }
  std::size_t row_bytes() const {
    return static_cast<std::size_t>(width) * static_cast<std::size_t>(channels() * bits / 8);
  }
};

class PictureDecoder {
 public:
  virtual ~PictureDecoder() = default;
  const PictureHead& head() const { return head_; }

  // Whether rows come only after the whole file was gone through (interlaced, progressive); prepare() does that, from 0
  // to `share` of `progress`, on a temporary file where it is large.
  virtual bool prepares() const { return false; }
  virtual Outcome prepare(const Progress* /*progress*/, double /*share*/) { return Done{}; }
  // The next row from the top into `to`, head().row_bytes() of it: samples in the machine's byte order.
  virtual Outcome next_row(std::span<std::uint8_t> to) = 0;
  // After the last row: a Problem where the file's end is not as it should be.
  virtual Outcome finish() { return Done{}; }

 protected:
  PictureHead head_;
};
using DecoderRef = std::unique_ptr<PictureDecoder>;

// By the file's first bytes. Everything that can be told from the header is refused here; at most `most` pixels.
Result<DecoderRef> open_decoder(const std::string& path, std::int64_t most = kMostPicturePixels);

// The three kinds; kind_of() must have said so.
Result<DecoderRef> open_png(PictureFile file, std::int64_t most);
Result<DecoderRef> open_jpeg(PictureFile file, std::int64_t most);
Result<DecoderRef> open_tiff(PictureFile file, std::int64_t most);

}  // namespace pontata
