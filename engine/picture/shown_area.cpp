#include "engine/picture/shown_area.h"

#include <algorithm>
#include <cmath>

namespace pontata {

namespace {

constexpr std::size_t kMostBands = 1024;

PixelBox common(const PixelBox& a, const PixelBox& b) {
  return {std::max(a.left, b.left), std::max(a.top, b.top), std::min(a.right, b.right), std::min(a.bottom, b.bottom)};
}

PixelBox box_of(const std::vector<Vec2>& points) {
  PixelBox box{points[0].x, points[0].y, points[0].x, points[0].y};
  for (const Vec2& p : points)
    box = {std::min(box.left, p.x), std::min(box.top, p.y), std::max(box.right, p.x), std::max(box.bottom, p.y)};
  return box;
}

// The segment reaches into the box: its own box does, and the box's corners do not all lie on one side of its line.
bool meets(const Vec2& a, const Vec2& b, const PixelBox& box) {
  if (std::max(a.x, b.x) < box.left || std::min(a.x, b.x) > box.right || std::max(a.y, b.y) < box.top ||
      std::min(a.y, b.y) > box.bottom)
    return false;
  const Vec2 d = b - a;
  int left = 0;
  for (const Vec2& c :
       {Vec2(box.left, box.top), Vec2(box.right, box.top), Vec2(box.right, box.bottom), Vec2(box.left, box.bottom)})
    left += cross2(d, c - a) > 0 ? 1 : 0;
  return left != 0 && left != 4;
}

}  // namespace

ShownArea::ShownArea(const PlacedPicture& picture) : box_(cropped(picture)) {
  if (picture.mask.empty()) return;
  const PixelBox all = box_of(picture.mask);
  box_ = common(box_, all);
  const std::size_t count = std::clamp<std::size_t>(picture.mask.size(), 1, kMostBands);
  top_ = all.top;
  per_px_ = all.bottom > all.top ? static_cast<double>(count) / (all.bottom - all.top) : 0;
  bands_.resize(count);
  for (std::size_t k = 0; k < picture.mask.size(); ++k) {
    const Edge e{picture.mask[k], picture.mask[(k + 1) % picture.mask.size()]};
    const int last = band(std::max(e.a.y, e.b.y));
    for (int n = band(std::min(e.a.y, e.b.y)); n <= last; ++n) bands_[static_cast<std::size_t>(n)].push_back(e);
  }
}

int ShownArea::band(double y) const {
  return static_cast<int>(std::clamp((y - top_) * per_px_, 0.0, static_cast<double>(bands_.size() - 1)));
}

bool ShownArea::in_mask(Vec2 pixel) const {
  bool in = false;
  for (const Edge& e : bands_[static_cast<std::size_t>(band(pixel.y))]) in = in != crosses_rightward(e.a, e.b, pixel);
  return in;
}

bool ShownArea::holds(Vec2 pixel) const { return pontata::holds(box_, pixel) && (bands_.empty() || in_mask(pixel)); }

ShownArea::Cover ShownArea::cover(const PixelBox& box) const {
  if (box.right < box_.left || box.left > box_.right || box.bottom < box_.top || box.top > box_.bottom ||
      box_.right < box_.left || box_.bottom < box_.top)
    return Cover::none;
  if (!bands_.empty()) {
    const int last = band(box.bottom);
    for (int n = band(box.top); n <= last; ++n)
      for (const Edge& e : bands_[static_cast<std::size_t>(n)])
        if (meets(e.a, e.b, box)) return Cover::part;
    if (!in_mask({0.5 * (box.left + box.right), 0.5 * (box.top + box.bottom)})) return Cover::none;
  }
  const bool within = pontata::holds(box_, {box.left, box.top}) && pontata::holds(box_, {box.right, box.bottom});
  return within ? Cover::all : Cover::part;
}

}  // namespace pontata
