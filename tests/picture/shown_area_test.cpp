#include "engine/picture/shown_area.h"

#include <catch2/catch.hpp>

#include "tests/fixtures/random_places.h"

using namespace pontata;

namespace {

PlacedPicture starred() {
  PlacedPicture picture;
  picture.size = {400, 300};
  picture.crop = PixelBox{20, 30, 390, 280};
  for (int k = 0; k < 14; ++k) {
    const double r = k % 2 ? 70 : 190, a = 2 * M_PI * k / 14;
    picture.mask.push_back({200 + r * std::cos(a), 150 + r * std::sin(a)});
  }
  return picture;
}

// Winding by angles: another way to say inside, for an outline that does not cross itself.
bool winds_round(const std::vector<Vec2>& outline, Vec2 p) {
  double sum = 0;
  for (std::size_t k = 0; k < outline.size(); ++k) {
    const Vec2 a = outline[k] - p, b = outline[(k + 1) % outline.size()] - p;
    sum += std::atan2(cross2(a, b), glm::dot(a, b));
  }
  return std::abs(sum) > M_PI;
}

}  // namespace

TEST_CASE("what shows lies in the picture, in its crop and in its mask") {
  const PlacedPicture picture = starred();
  const ShownArea area(picture);
  std::mt19937 rng(5);
  std::uniform_real_distribution<double> x(-50, 450), y(-50, 350);
  int in = 0;
  for (int k = 0; k < 20000; ++k) {
    const Vec2 p(x(rng), y(rng));
    const bool wanted = p.x >= 20 && p.x <= 390 && p.y >= 30 && p.y <= 280 && winds_round(picture.mask, p);
    REQUIRE(area.holds(p) == wanted);
    REQUIRE((shown_at(picture, p) > 0) == wanted);
    in += wanted;
  }
  CHECK(in > 2000);
}

TEST_CASE("a box that shows wholly or not at all does so in each of its places") {
  const PlacedPicture picture = starred();
  const ShownArea area(picture);
  std::mt19937 rng(6);
  std::uniform_real_distribution<double> x(-50, 450), y(-50, 350), side(0.1, 60), unit(0, 1);
  int whole = 0, none = 0, part = 0;
  for (int k = 0; k < 5000; ++k) {
    const double left = x(rng), top = y(rng);
    const PixelBox box{left, top, left + side(rng), top + side(rng)};
    const auto cover = area.cover(box);
    whole += cover == ShownArea::Cover::all;
    none += cover == ShownArea::Cover::none;
    part += cover == ShownArea::Cover::part;
    if (cover == ShownArea::Cover::part) continue;
    for (int n = 0; n < 40; ++n) {
      const Vec2 p(box.left + unit(rng) * (box.right - box.left), box.top + unit(rng) * (box.bottom - box.top));
      REQUIRE(area.holds(p) == (cover == ShownArea::Cover::all));
    }
  }
  CHECK(whole > 300);
  CHECK(none > 300);
  CHECK(part > 300);
}

TEST_CASE("fade is taken off what shows; a crop beside the picture shows nothing") {
  PlacedPicture picture;
  picture.size = {10, 10};
  picture.fade = 0.25;
  CHECK(shown_at(picture, {5, 5}) == 0.75);
  CHECK(shown_at(picture, {0, 10}) == 0.75);
  CHECK(shown_at(picture, {-0.01, 5}) == 0);
  picture.crop = PixelBox{12, 0, 20, 10};
  CHECK(shown_at(picture, {5, 5}) == 0);
  CHECK(shown_at(picture, {12, 5}) == 0);
  CHECK(ShownArea(picture).cover({0, 0, 100, 100}) == ShownArea::Cover::none);
}
