#include "engine/picture/placed_picture.h"

#include <algorithm>

namespace pontata {

bool holds(const PixelBox& box, Vec2 pixel) {
  constexpr double kSlack = 1e-6;
  return pixel.x >= box.left - kSlack && pixel.y >= box.top - kSlack && pixel.x <= box.right + kSlack &&
         pixel.y <= box.bottom + kSlack;
}

bool crosses_rightward(Vec2 a, Vec2 b, Vec2 p) {
  return (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y);
}

PixelBox cropped(const PlacedPicture& picture) {
  PixelBox box{0, 0, 1.0 * picture.size.width, 1.0 * picture.size.height};
  if (const auto& c = picture.crop)
    box = {std::max(box.left, c->left), std::max(box.top, c->top), std::min(box.right, c->right),
           std::min(box.bottom, c->bottom)};
  return box;
}

double shown_at(const PlacedPicture& picture, Vec2 pixel) {
  if (!holds(cropped(picture), pixel)) return 0;
  bool in = picture.mask.empty();
  for (std::size_t k = 0; k < picture.mask.size(); ++k)
    in = in != crosses_rightward(picture.mask[k], picture.mask[(k + 1) % picture.mask.size()], pixel);
  return in ? 1 - picture.fade : 0;
}

bool same_look(const PlacedPicture& a, const PlacedPicture& b) {
  return &a == &b || (a.pixels == b.pixels && a.size == b.size && a.lay == b.lay && a.plate == b.plate &&
                      a.crop == b.crop && a.mask == b.mask && a.fade == b.fade);
}

}  // namespace pontata
