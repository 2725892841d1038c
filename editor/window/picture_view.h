// The chosen picture itself, beside the wall: for marking places on it, and which part of it shows.
#pragma once

#include "editor/view/picture_tiles.h"
#include "editor/window/layout.h"
#include "engine/picture/placed_picture.h"

namespace pontata {

class PictureView {
 public:
  // Where it stands (px of the window; nothing wide: it is not shown) and what it shows. Another picture is shown as a
  // whole.
  void place(const Region& at, PlacedRef picture);
  bool shown() const { return at_.width >= 2 && picture_ != nullptr; }
  bool holds(Vec2 px) const { return shown() && at_.holds(px.x, px.y); }
  const Region& region() const { return at_; }
  const PlacedRef& picture() const { return picture_; }

  // Pixels of the picture (x right, y down, continuous) and px of the window.
  Vec2 to_px(Vec2 pixel) const;
  Vec2 to_pixel(Vec2 px) const;
  bool on_picture(Vec2 pixel) const;
  double magnified() const { return zoom_; }  // px of the window per pixel

  void fit();
  void pan(Vec2 moved_px);
  void zoom(double factor, Vec2 at_px);  // keeps the place under at_px
  void go_to(Vec2 pixel);                // into the middle

  // The picture on its ground, or a line saying that it cannot be read. True when it is as fine as can be; otherwise
  // the next frame goes on.
  bool paint(ImDrawList& list);

 private:
  double fitting() const;  // the zoom that shows all of it

  Region at_{0, 0, 0, 0};
  PlacedRef picture_;
  Vec2 centre_{0, 0};  // pixel in the middle
  double zoom_ = 1;
  bool fitted_ = false;  // all of it is shown, and goes on to be when the region changes
  PictureTiles tiles_;
};

}  // namespace pontata
