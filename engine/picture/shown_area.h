// The part of a picture that shows: within the picture, its crop and its mask, made ready for many questions.
#pragma once

#include <vector>

#include "engine/picture/placed_picture.h"

namespace pontata {

class ShownArea {
 public:
  explicit ShownArea(const PlacedPicture& picture);

  // The least box that holds all of it; right < left or bottom < top where nothing shows.
  const PixelBox& box() const { return box_; }
  bool holds(Vec2 pixel) const;  // closed at the picture's and the crop's edges (within a millionth of a pixel)

  enum class Cover { none, part, all };
  // How much of this box of pixels shows; `part` may be said of boxes that an edge only touches.
  Cover cover(const PixelBox& box) const;

 private:
  struct Edge {
    Vec2 a, b;
  };
  bool in_mask(Vec2 pixel) const;
  int band(double y) const;

  PixelBox box_;
  double top_ = 0, per_px_ = 0;           // bands of the mask's height
  std::vector<std::vector<Edge>> bands_;  // the mask's edges that reach into each band; empty: no mask
};

}  // namespace pontata
