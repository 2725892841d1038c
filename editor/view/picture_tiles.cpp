#include "editor/view/picture_tiles.h"

#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <cmath>

namespace pontata {
namespace {

constexpr int kSide = PictureTile::kSide;
constexpr std::size_t kMostTiles = 256;  // of 256 KiB each
constexpr double kSecondsACall = 0.012;  // for making tiles; the first is made whatever it takes
constexpr double kPixelsShowAt = 4;      // from this zoom on single pixels are seen as squares

double pixels_of(int level) { return std::ldexp(1.0, level); }  // of the picture across one of the level's

GlTexture upload(const PictureTile& tile) {
  GlTexture texture = make_texture();
  glBindTexture(GL_TEXTURE_2D, texture.get());
  for (const GLenum way : {GL_TEXTURE_WRAP_S, GL_TEXTURE_WRAP_T}) glTexParameteri(GL_TEXTURE_2D, way, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, kSide, kSide, 0, GL_RGBA, GL_UNSIGNED_BYTE, tile.rgba.data());
  return texture;
}

}  // namespace

int level_for_zoom(const PictureSource& picture, double zoom) {
  const int wanted = static_cast<int>(std::floor(-std::log2(std::max(zoom, 1e-9)) + 1e-9));
  return std::clamp(wanted, 0, picture.levels() - 1);
}

bool PictureTiles::draw(ImDrawList& list, const PictureRef& picture, Vec2 origin, double zoom, Vec2 low, Vec2 high) {
  if (picture != picture_) kept_.clear();
  picture_ = picture;
  ++calls_;
  seconds_left_ = kSecondsACall;
  ready({picture->levels() - 1, 0, 0});  // all of it, coarsely
  const int level = level_for_zoom(*picture, zoom);
  const PictureSize size = picture->size_of(level);
  const double step = kSide * pixels_of(level) * zoom;  // px of screen across a tile
  const auto first = [&](double from, double at) {
    return std::max(0, static_cast<int>(std::floor((from - at) / step)));
  };
  const auto last = [&](double to, double at, int pixels) {
    return std::min((pixels - 1) / kSide, static_cast<int>(std::floor((to - at) / step)));
  };
  bool all = true;
  for (int j = first(low.y, origin.y); j <= last(high.y, origin.y, size.height); ++j)
    for (int i = first(low.x, origin.x); i <= last(high.x, origin.x, size.width); ++i) {
      all = ready({level, i, j}) && all;
      draw_tile(list, {origin, zoom}, {level, i, j});
    }
  drop_oldest();
  return all;
}

bool PictureTiles::ready(const Key& key) {
  if (const auto found = kept_.find(key); found != kept_.end()) {
    found->second.used = calls_;
    return true;
  }
  if (seconds_left_ <= 0) return false;
  const auto begin = std::chrono::steady_clock::now();
  const auto tile = picture_->tile(key[0], key[1], key[2]);
  if (tile) kept_[key] = {upload(*tile), calls_};
  seconds_left_ -= std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  return tile != nullptr;
}

// The tile itself or, until it is there, the next coarser one that is.
void PictureTiles::draw_tile(ImDrawList& list, const View& view, const Key& wanted) {
  for (int level = wanted[0], i = wanted[1], j = wanted[2]; level < picture_->levels(); ++level, i /= 2, j /= 2)
    if (kept_.contains({level, i, j})) return draw_part(list, view, wanted, {level, i, j});
}

void PictureTiles::draw_part(ImDrawList& list, const View& view, const Key& wanted, const Key& from) {
  const Vec2 whole(picture_->size().width, picture_->size().height);
  const double across = kSide * pixels_of(wanted[0]);
  const Vec2 low = Vec2(wanted[1], wanted[2]) * across, high = glm::min(low + across, whole);
  const auto px = [&](Vec2 p) {
    const Vec2 at = view.origin + p * view.zoom;
    return ImVec2(static_cast<float>(at.x), static_cast<float>(at.y));
  };
  const auto in_tile = [&](Vec2 p) {
    const Vec2 at = p / (kSide * pixels_of(from[0])) - Vec2(from[1], from[2]);
    return ImVec2(static_cast<float>(at.x), static_cast<float>(at.y));
  };
  Kept& kept = kept_.at(from);
  kept.used = calls_;
  glBindTexture(GL_TEXTURE_2D, kept.texture.get());
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, view.zoom >= kPixelsShowAt ? GL_NEAREST : GL_LINEAR);
  const auto id = reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(kept.texture.get()));
  list.AddImage(id, px(low), px(high), in_tile(low), in_tile(high));
}

void PictureTiles::drop_oldest() {
  while (kept_.size() > kMostTiles) {
    const auto oldest = std::min_element(kept_.begin(), kept_.end(),
                                         [](const auto& a, const auto& b) { return a.second.used < b.second.used; });
    if (oldest->second.used == calls_) return;  // all are on screen
    kept_.erase(oldest);
  }
}

}  // namespace pontata
