// The draped picture read at evenly spaced chart places.
#pragma once

#include <span>

#include "engine/picture/placement.h"

namespace pontata {

// Area-averaged to about `width` x `height` pixels, both at most the image's own: every source pixel counts by the
// share of it that falls into the target pixel, so fine patterns do not alias.
Image reduce(const Image& image, int width, int height);

// Reads rows of samples a `spacing` apart (chart metres). A picture finer than that is area-averaged first. Beyond its
// edge it goes on with the edge's colours, so the edge itself is no contour.
class PictureRows {
 public:
  // `image` must outlive this.
  PictureRows(const PictureFrame& frame, const Image& image, double spacing);

  // Samples (first + k, j), k = 0 .. size - 1, each channel 0..1 into its own span; all three of one size.
  void row(int first, int j, std::span<float> red, std::span<float> green, std::span<float> blue) const;
  // Sample (i, j) lies on the picture.
  bool covers(int i, int j) const;

 private:
  Vec2 pixel(double i, double j) const { return origin_ + along_ * i + up_ * j; }
  const Image* source_;
  Image reduced_;
  Vec2 origin_{0, 0}, along_{0, 0}, up_{0, 0};  // pixel of sample (0, 0), and its change with i and j
};

}  // namespace pontata
