#include "engine/picture/placed_picture.h"

namespace pontata {

double shown_at(const PlacedPicture& picture, Vec2 pixel) {
  const PixelBox all{0, 0, 1.0 * picture.size.width, 1.0 * picture.size.height};
  const auto inside = [&](const PixelBox& box) {
    constexpr double kSlack = 1e-6;
    return pixel.x >= box.left - kSlack && pixel.y >= box.top - kSlack && pixel.x <= box.right + kSlack &&
           pixel.y <= box.bottom + kSlack;
  };
  if (!inside(all) || (picture.crop && !inside(*picture.crop))) return 0;
  if (!picture.mask.empty()) {
    bool in = false;
    for (std::size_t k = 0; k < picture.mask.size(); ++k) {
      const Vec2 a = picture.mask[k], b = picture.mask[(k + 1) % picture.mask.size()];
      if ((a.y > pixel.y) != (b.y > pixel.y) && pixel.x < a.x + (b.x - a.x) * (pixel.y - a.y) / (b.y - a.y)) in = !in;
    }
    if (!in) return 0;
  }
  return 1 - picture.fade;
}

}  // namespace pontata
