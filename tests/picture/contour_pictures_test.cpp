// Contours of several pictures together, of soft edges, and of what changed only.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "engine/base/parallel.h"
#include "engine/picture/contours.h"
#include "tests/fixtures/figures.h"
#include "tests/fixtures/pictures.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

Image filled(int width, int height, std::uint8_t level) {
  return {width, height, std::vector<std::uint8_t>(3 * static_cast<std::size_t>(width * height), level)};
}

// From 40 to 220 evenly over `soft` m about u = 0.2, on a wall of 0.4 m, a pixel a millimetre.
Image ramp(double soft) {
  Image image{400, 400, {}};
  for (int k = 0; k < 400 * 400; ++k) {
    const double u = (k % 400 + 0.5) / 1000, t = std::clamp((u - 0.2) / soft + 0.5, 0.0, 1.0);
    image.rgb.insert(image.rgb.end(), 3, static_cast<std::uint8_t>(std::lround(40 + 180 * t)));
  }
  return image;
}

Image speckled(int side, unsigned seed) {
  std::mt19937 rng(seed);
  Image image{side, side, {}};
  const auto random = [&](double a, double b) { return a + (b - a) * static_cast<double>(rng()) / 4294967295.0; };
  image.rgb.assign(3 * static_cast<std::size_t>(side * side), 150);
  for (int blot = 0; blot < side / 4; ++blot) {
    const double x0 = random(0, side), y0 = random(0, side), r = random(4, 30);
    const auto level = static_cast<std::uint8_t>(rng());
    for (int y = 0; y < side; ++y)
      for (int x = 0; x < side; ++x)
        if (std::hypot(x - x0, y - y0) < r) std::fill_n(image.rgb.begin() + 3 * (y * side + x), 3, level);
  }
  return image;
}

struct Seen {
  int count = 0;
  float most = 0;
  double far = 0;  // m from u, at most
};
Seen seen(const ContourField& field, double u) {
  Seen s;
  field.each_ridge([&](int i, int, const Ridge& ridge) {
    ++s.count;
    s.most = std::max(s.most, ridge.strength);
    const double at =
        (i + std::cos(static_cast<double>(ridge.direction)) * static_cast<double>(ridge.offset)) * field.spacing;
    s.far = std::max(s.far, std::abs(at - u));
  });
  return s;
}

bool same(const ContourField& a, const ContourField& b) {
  if (a.columns != b.columns || a.rows != b.rows) return false;
  for (int j = 0; j < a.rows; ++j)
    for (int i = 0; i < a.columns; ++i)
      if (!(a.at(i, j) == b.at(i, j))) return false;
  return true;
}

int tiles_shared(const ContourField& a, const ContourField& b) {
  int count = 0;
  for (int y = 0; y < a.tiles_up(); ++y)
    for (int x = 0; x < a.tiles_across(); ++x) count += a.tile(x, y) && a.tile(x, y) == b.tile(x, y);
  return count;
}

}  // namespace

// Closed form: an even change of contrast c over width w, blurred by sigma = w / 2, has the gradient
// c / w erf(w / (sigma sqrt 8)) at its middle and so the strength c sqrt(2 pi) / 2 erf(1 / sqrt 2) = 0.856 c.
TEST_CASE("an edge 20 mm wide is a contour at scale 20 and none at the finest") {
  const auto wall = flat_wall(0.4, 0.4);
  const auto on_wall = draped(wall, ramp(0.02), PictureFrame{{0, 0}, 0.4, 0.4, 0});
  const double contrast = 180 / 255.0;
  CHECK(seen(contour_field(*on_wall, {.scale_mm = 0, .strength = 0.2}), 0.2).count == 0);
  const auto wide = contour_field(*on_wall, {.scale_mm = 20, .strength = 0.2});
  const auto s = seen(wide, 0.2);
  CHECK(s.count > 0.9 * wide.rows);
  CHECK(s.count < 2.1 * wide.rows);
  CHECK(s.far < 0.0005);
  CHECK(static_cast<double>(s.most) == Approx(0.856 * contrast).epsilon(0.03));
}

TEST_CASE("a sharp edge keeps its place and strength at every scale") {
  const auto wall = flat_wall(0.4, 0.4);
  const auto on_wall = draped(wall, ramp(1e-6), PictureFrame{{0, 0}, 0.4, 0.4, 0});
  for (const double scale : {0.0, 2.0, 5.0, 9.0, 14.0, 30.0}) {
    const auto field = contour_field(*on_wall, {.scale_mm = scale, .strength = 0.1});
    const auto s = seen(field, 0.2);
    CAPTURE(scale, field.spacing, s.count, s.far);
    CHECK(field.spacing == Approx(0.001 * std::max(1.0, std::floor(scale / 3 + 1e-9))));
    CHECK(s.count > 0.9 * field.rows - 2);
    CHECK(s.far < 0.05 * field.spacing + 0.0001);
    CHECK(static_cast<double>(s.most) == Approx(180 / 255.0).epsilon(0.08));
  }
}

TEST_CASE("strength is what an edge needs somewhere, and it goes on down to 0.4 of it") {
  // Contrast falls from 0.5 at the lower end to 0.1 at the upper.
  Image image{200, 200, {}};
  for (int y = 0; y < 200; ++y)
    for (int x = 0; x < 200; ++x) {
      const double half = 0.25 - 0.2 * (199 - y) / 199.0;
      image.rgb.insert(image.rgb.end(), 3,
                       static_cast<std::uint8_t>(std::lround(255 * (0.5 + (x < 100 ? -half : half)))));
    }
  const auto on_wall = draped(flat_wall(0.2, 0.2), image, PictureFrame{{0, 0}, 0.2, 0.2, 0});
  CHECK(seen(contour_field(*on_wall, {.strength = 0.6}), 0.1).count == 0);
  const auto field = contour_field(*on_wall, {.strength = 0.4});
  double top = 0;
  field.each_ridge([&](int, int j, const Ridge&) { top = std::max(top, j * field.spacing); });
  CHECK(top == Approx(0.2 * (0.5 - 0.16) / 0.4).margin(0.012));
}

TEST_CASE("two pictures part where they overlap and their colours differ, and nowhere else") {
  const auto wall = flat_wall(0.5, 0.3);
  const auto left = placed(filled(200, 200, 60), PictureFrame{{0.05, 0.05}, 0.2, 0.2, 0}, 1);
  const auto right = [&](std::uint8_t level, double u) {
    return placed(filled(200, 200, level), PictureFrame{{u, 0.05}, 0.2, 0.2, 0}, 2);
  };
  const auto field_of = [&](PlacedRef a, PlacedRef b) { return contour_field(*Draped::make({wall, {a, b}, {}})); };
  const auto over = field_of(left, right(200, 0.17));  // its left edge, 0.2 m high
  const auto s = seen(over, 0.17);
  CHECK(s.count > 180);
  CHECK(s.count < 420);
  CHECK(s.far < 0.0015);
  CHECK(static_cast<double>(s.most) == Approx(140 / 255.0).epsilon(0.12));
  CHECK(seen(field_of(left, right(60, 0.17)), 0).count == 0);   // of one colour
  CHECK(seen(field_of(left, right(200, 0.29)), 0).count == 0);  // bare wall between them
}

TEST_CASE("a faded picture's contours are its colours' own, and one faded away has none") {
  const auto wall = flat_wall(0.4, 0.4);
  auto faded = *placed(ramp(1e-6), PictureFrame{{0, 0}, 0.4, 0.4, 0});
  faded.fade = 0.6;
  const auto s = seen(contour_field(*Draped::make({wall, {std::make_shared<PlacedPicture>(faded)}, {}})), 0.2);
  CHECK(s.count > 380);
  CHECK(static_cast<double>(s.most) == Approx(180 / 255.0).epsilon(0.08));
  faded.fade = 0.995;
  CHECK(seen(contour_field(*Draped::make({wall, {std::make_shared<PlacedPicture>(faded)}, {}})), 0.2).count == 0);
}

TEST_CASE("a contour that runs into the picture's edge keeps its place there") {
  const auto wall = flat_wall(0.4, 0.4);
  auto cropped = *placed(ramp(1e-6), PictureFrame{{0, 0}, 0.4, 0.4, 0});
  cropped.crop = PixelBox{50, 100, 350, 300};  // 0.1 .. 0.3 m up
  const auto field = contour_field(*Draped::make({wall, {std::make_shared<PlacedPicture>(cropped)}, {}}));
  const auto s = seen(field, 0.2);
  CHECK(s.far < 0.0002);
  double low = 1, high = 0;
  field.each_ridge([&](int, int j, const Ridge&) {
    low = std::min(low, j * field.spacing);
    high = std::max(high, j * field.spacing);
  });
  CHECK(low == Approx(0.1).margin(0.0015));
  CHECK(high == Approx(0.3).margin(0.0015));
}

TEST_CASE("moving a small picture makes only the tiles about it again, to the same bits as a fresh search") {
  const auto wall = flat_wall(1.2, 1.0);
  const auto ground = placed(speckled(500, 3), PictureFrame{{0, 0}, 1.2, 1.2, 0}, 1);
  const auto small = [&](double u) { return placed(speckled(60, 4), PictureFrame{{u, 0.3}, 0.06, 0.06, 0}, 2); };
  for (const double scale : {0.0, 12.0}) {
    const ContourSettings settings{.scale_mm = scale, .strength = 0.1};
    const auto first = Draped::make({wall, {ground, small(0.3)}, {}}, nullptr, 0.0012);
    const auto before = contour_field(*first, settings);
    const auto moved = Draped::make({wall, {ground, small(0.32)}, {}}, first, 0.0012);
    const auto after = contour_field(*moved, settings, &before);
    const auto fresh = contour_field(*Draped::make(moved->input(), nullptr, 0.0012), settings);
    CHECK(same(after, fresh));
    CHECK_FALSE(same(after, before));
    const int all = before.tiles_across() * before.tiles_up();
    CAPTURE(scale, all, tiles_shared(before, after));
    // 2 x 2 draped tiles changed, and with them what their neighbours reach into.
    CHECK(moved->tile(5, 5) == first->tile(5, 5));
    if (scale == 0) CHECK(tiles_shared(before, after) >= all - 16);
    CHECK(tiles_shared(before, contour_field(*first, settings, &before)) == all);
  }
}

TEST_CASE("another strength takes all tiles over and joins them anew, as a fresh search would") {
  const auto on_wall = draped(flat_wall(0.6, 0.6), speckled(600, 9), PictureFrame{{0, 0}, 0.6, 0.6, 0});
  const auto before = contour_field(*on_wall, {.strength = 0.10});
  const auto after = contour_field(*on_wall, {.strength = 0.45}, &before);
  CHECK(tiles_shared(before, after) == before.tiles_across() * before.tiles_up());
  CHECK(same(after, contour_field(*on_wall, {.strength = 0.45})));
  CHECK(seen(after, 0).count < seen(before, 0).count);
  // Neither another scale nor another wall takes anything over.
  CHECK(same(contour_field(*on_wall, {.scale_mm = 5}, &before), contour_field(*on_wall, {.scale_mm = 5})));
  const auto other = draped(flat_wall(0.6, 0.6), speckled(600, 9), PictureFrame{{0, 0}, 0.6, 0.6, 0});
  CHECK(tiles_shared(before, contour_field(*other, {}, &before)) == 0);
}

TEST_CASE("the same field on one thread as on several") {
  const auto on_wall = draped(flat_wall(0.6, 0.6), speckled(600, 5), PictureFrame{{0.01, 0.02}, 0.5, 0.5, 7});
  const auto several = contour_field(*on_wall);
  const WorkerLimit one(1);
  CHECK(same(several, contour_field(*on_wall)));
}

TEST_CASE("bare wall costs no memory") {
  const auto wall = flat_wall(4, 4);
  const auto part = draped(wall, speckled(400, 5), PictureFrame{{0.1, 0.1}, 0.4, 0.4, 0});
  const auto field = contour_field(*part);
  CHECK(static_cast<double>(field.columns) * field.rows > 15e6);
  CHECK(field.bytes() < 5'000'000);  // 16 million samples of four floats would be 256 MB
  CHECK(seen(field, 0).count > 500);
}
