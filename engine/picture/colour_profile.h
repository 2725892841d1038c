// Rows of any picture to red, green, blue (sRGB) and opacity, 8 bits each.
//
// Based on: ICC.1:2010 (profiles), by lcms; IEC 61966-2-1 (sRGB); PNG, 2003, 11.3.3 (gAMA, cHRM).
#pragma once

#include <cstdint>
#include <memory>
#include <string>

#include "engine/base/result.h"
#include "engine/picture/picture_decoder.h"

namespace pontata {

constexpr std::size_t kLargestProfile = std::size_t{16} << 20;  // bytes

// A profile that is damaged, or not one for pictures of grey or of red, green and blue: without it the colours cannot
// be shown truly, so the picture is refused.
Problem bad_profile(const std::string& path);

// Relative colorimetric with black point compensation. Without profile and numbers samples are sRGB already. A profile
// within one level of sRGB all over is taken for sRGB: the picture keeps its bytes. A grey picture may carry a profile
// of red, green and blue. Samples of 16 bits are converted at 16 bits, then rounded. Within one level of lcms's
// unabridged evaluation.
class ToSrgb {
 public:
  static Result<ToSrgb> make(const PictureHead& head);
  ToSrgb(ToSrgb&&) noexcept;
  ToSrgb& operator=(ToSrgb&&) noexcept;
  ~ToSrgb();

  // One row as the decoder gives it, to 4 * width bytes.
  void row(const std::uint8_t* from, std::uint8_t* rgba);

 private:
  struct Parts;
  explicit ToSrgb(std::unique_ptr<Parts> parts);
  std::unique_ptr<Parts> parts_;
};

}  // namespace pontata
