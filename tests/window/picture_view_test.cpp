// The picture itself beside the wall: where its pixels come on screen, and how finely it is drawn.
#include "editor/window/picture_view.h"

#include <catch2/catch.hpp>

using namespace pontata;

namespace {

class Bare final : public PictureSource {
 public:
  explicit Bare(PictureSize size) : PictureSource(size) {}
  std::shared_ptr<const PictureTile> tile(int, int, int) const override { return nullptr; }
};

PlacedRef picture_of_size(int width, int height) {
  auto picture = std::make_shared<PlacedPicture>();
  picture->id = PictureId{1};
  picture->size = {width, height};
  picture->pixels = std::make_shared<Bare>(picture->size);
  return picture;
}

}  // namespace

TEST_CASE("a picture is shown whole at first, whatever its size, and stays whole when its room changes") {
  PictureView view;
  CHECK_FALSE(view.shown());
  for (const auto& [w, h] : {std::pair{300, 200}, std::pair{20000, 10000}, std::pair{3, 4000}}) {
    const PlacedRef picture = picture_of_size(w, h);
    for (const Region& room : {Region{10, 20, 640, 300}, Region{10, 20, 200, 700}}) {
      view.place(room, picture);
      const Vec2 low = view.to_px({0, 0}), high = view.to_px(Vec2(w, h));
      CHECK(low.x >= room.x);
      CHECK(low.y >= room.y);
      CHECK(high.x <= room.x + room.width);
      CHECK(high.y <= room.y + room.height);
      CHECK((high.x - low.x) * h == Approx((high.y - low.y) * w));
    }
  }
}

TEST_CASE("a picture that is shown only later is shown whole then") {
  PictureView view;
  const PlacedRef picture = picture_of_size(3000, 1000);
  view.place({0, 0, 0, 0}, picture);
  CHECK_FALSE(view.shown());
  view.place({0, 0, 500, 500}, picture);
  CHECK(view.to_px({0, 0}).x > 0);
  CHECK(view.to_px({3000, 1000}).x < 500);
}

TEST_CASE("nearing keeps the pixel under the pointer, and px and pixels are inverse") {
  PictureView view;
  view.place({0, 0, 600, 400}, picture_of_size(1500, 900));
  const Vec2 at(420, 130), pixel = view.to_pixel(at);
  view.zoom(3.7, at);
  CHECK(glm::length(view.to_pixel(at) - pixel) < 1e-9);
  CHECK(glm::length(view.to_px(view.to_pixel({17, 250})) - Vec2(17, 250)) < 1e-9);
  view.pan({-30, 12});
  CHECK(glm::length(view.to_px(pixel) - (at + Vec2(-30, 12))) < 1e-9);
  for (int i = 0; i < 60; ++i) view.zoom(1.5, at);
  CHECK(view.magnified() <= 40);
  for (int i = 0; i < 90; ++i) view.zoom(0.7, at);
  CHECK(view.magnified() > 0.1);  // 0.2 of the screen at least
}

// Level k holds one pixel for 2^k (picture_source.h); on screen it must not be larger than a px, nor half as small.
TEST_CASE("the level that is drawn is as fine as the screen can show and no finer") {
  const Bare picture({16384, 12000});
  for (const double zoom : {4.0, 1.0, 0.9, 0.5, 0.3, 0.26, 0.04}) {
    const int level = level_for_zoom(picture, zoom);
    const double px = std::ldexp(zoom, level);
    INFO(zoom << " level " << level);
    CHECK((px <= 1.000001 || level == 0));
    CHECK((px > 0.5 || level == picture.levels() - 1));
  }
}
