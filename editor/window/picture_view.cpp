#include "editor/window/picture_view.h"

#include <imgui.h>

#include <algorithm>

#include "editor/window/theme.h"

namespace pontata {
namespace {

constexpr double kMostZoom = 40;  // px of the window per pixel
constexpr double kMargin = 0.96;  // of the region that a whole picture takes
constexpr Rgb kGroundOfPicture = rgb(0x8C867A);

ImVec2 to_im2(Vec2 p) { return ImVec2(static_cast<float>(p.x), static_cast<float>(p.y)); }

}  // namespace

void PictureView::place(const Region& at, PlacedRef picture) {
  const bool other = picture && (!picture_ || picture->id != picture_->id || !(picture->size == picture_->size));
  at_ = at;
  picture_ = std::move(picture);
  fitted_ |= other;  // seen for the first time perhaps much later
  if (fitted_) fit();
}

double PictureView::fitting() const {
  const double across = std::max(1, picture_->size.width), down = std::max(1, picture_->size.height);
  return kMargin * std::min(at_.width / across, at_.height / down);
}

void PictureView::fit() {
  if (!shown()) return;
  centre_ = Vec2(picture_->size.width, picture_->size.height) * 0.5;
  zoom_ = std::min(fitting(), kMostZoom);
  fitted_ = true;
}

Vec2 PictureView::to_px(Vec2 pixel) const {
  return Vec2(at_.x + at_.width / 2, at_.y + at_.height / 2) + (pixel - centre_) * zoom_;
}
Vec2 PictureView::to_pixel(Vec2 px) const {
  return centre_ + (px - Vec2(at_.x + at_.width / 2, at_.y + at_.height / 2)) / zoom_;
}
bool PictureView::on_picture(Vec2 p) const {
  return picture_ && p.x >= 0 && p.y >= 0 && p.x <= picture_->size.width && p.y <= picture_->size.height;
}

void PictureView::go_to(Vec2 pixel) {
  if (!shown()) return;
  const Vec2 size(picture_->size.width, picture_->size.height);
  centre_ = glm::clamp(pixel, Vec2(0, 0), size);
  fitted_ = false;
}
void PictureView::pan(Vec2 moved_px) { go_to(centre_ - moved_px / zoom_); }

void PictureView::zoom(double factor, Vec2 at_px) {
  if (!shown()) return;
  const Vec2 kept = to_pixel(at_px);
  const double least = std::min(0.5 * fitting(), kMostZoom);
  zoom_ = std::clamp(zoom_ * factor, least, kMostZoom);
  go_to(centre_ + kept - to_pixel(at_px));
}

bool PictureView::paint(ImDrawList& list) {
  if (!shown()) return true;
  const Vec2 low(at_.x, at_.y), high = low + Vec2(at_.width, at_.height);
  list.PushClipRect(to_im2(low), to_im2(high));
  list.AddRectFilled(to_im2(low), to_im2(high), to_im(kGroundOfPicture));
  bool all = true;
  if (picture_->pixels)
    all = tiles_.draw(list, picture_->pixels, to_px({0, 0}), zoom_, low, high);
  else
    list.AddText(to_im2(low + Vec2(12, 12)), to_im(kCasing), "This picture's file cannot be read.");
  list.PopClipRect();
  return all;
}

}  // namespace pontata
