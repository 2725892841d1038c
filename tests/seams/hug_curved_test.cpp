// The same drawing laid in true size on walls of different shape is hugged along the same curve.
#include <catch2/catch.hpp>

#include "engine/picture/lay.h"
#include "tests/seams/hug_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kSide = 0.8;    // m, of the picture
constexpr int kPixels = 800;     // a side: 1 mm each
constexpr double kDrape = 6e-4;  // m: the drape itself is as far off on the dome

struct Laid {
  WallRef wall;
  PictureFrame frame;
  std::shared_ptr<HugGround> ground;
  PictureSize size{kPixels, kPixels};

  ChartPoint place(Vec2 pixel) const { return from_pixel(frame, size, pixel); }
  // Back to the drawing's own metres, by the lay.
  Vec2 drawn(ChartPoint p) const {
    return pixel_at(frame, {}, size, p, wall->position(p).value()).value() * (kSide / kPixels);
  }
};

Laid lay(const WallRef& wall, Vec2 middle, const Image& image) {
  Laid laid{wall, place_by_size(*wall, image, to_chart(middle - kSide / 2), kSide, 0).value(), nullptr, {}};
  laid.size = PictureSize(kPixels, kPixels);
  laid.ground = ground_of(wall, std::make_shared<ContourField>(contour_field(*draped(wall, image, laid.frame, 0.001))));
  return laid;
}

}  // namespace

TEST_CASE("a drawing hugged on a flat wall, a barrel and a dome gives the same curve within a millimetre") {
  const PictureFrame paper{{0, 0}, kSide, kSide, 0};
  const Figure figure = blob({kSide / 2, kSide / 2}, 0.24, 0.2);
  const Image image = fixtures::drawn(paper, kPixels, kPixels, figure);
  const auto dome = dome_wall(8, 4);
  const double crown = dome->chart->box().width / 2;
  const Laid flat = lay(flat_wall(1.2, 1.2), {0.6, 0.6}, image), barrel = lay(barrel_wall(3, 2, 1.5), {1, 2}, image),
             domed = lay(dome, {crown, crown}, image);

  const auto hugged = [&](const Laid& laid) {
    std::vector<ChartPoint> points;
    for (int k = 0; k < 12; ++k) points.push_back(laid.place(to_pixel(paper, image, figure.at((k + 0.3) / 12))));
    const auto line = hug(laid.ground, points, true).value();
    CHECK(line.share() > 0.95);
    std::vector<ChartPoint> curve;  // in the drawing's metres, ends joined
    for (std::size_t k = 0; k <= line.line.size(); ++k)
      curve.push_back(to_chart(laid.drawn(line.line[k % line.line.size()])));
    return std::pair(curve, line.length_m);
  };
  std::vector<ChartPoint> outline;
  for (const auto& p : figure.outline)
    outline.push_back(to_chart(to_pixel(paper, image, to_chart(p)) * (kSide / kPixels)));
  outline.push_back(outline[0]);

  const auto [on_flat, flat_m] = hugged(flat);
  CHECK(apart(on_flat, outline) < 0.001);
  for (const Laid* laid : {&barrel, &domed}) {
    const auto [curve, metres] = hugged(*laid);
    CHECK(apart(curve, outline) < 0.001);
    CHECK(apart(curve, on_flat) < 0.001);
    CHECK(apart(on_flat, curve) < 0.001);
    // The drape keeps lengths: exactly on a barrel; on a dome of 4 m the width is true along the picture's lower edge,
    // 0.4 m from the crown, where lengths round it are (0.4 / 4)^2 / 6 = 0.17 % shorter than their flat ones.
    CHECK(metres == Approx(flat_m).epsilon(laid == &domed ? 2e-3 : 2e-4));
    // On the surface itself, by distance and bearing from the drawing's middle: both charts tell them truly there.
    const auto about = [&](const Laid& on) {
      std::vector<ChartPoint> line;
      const Vec2 middle = to_vec(on.place({kPixels / 2.0, kPixels / 2.0}));
      for (const auto& p : hugged(on).first)
        line.push_back(to_chart(to_vec(on.place(to_vec(p) * (kPixels / kSide))) - middle));
      return line;
    };
    const auto one = about(flat), other = about(*laid);
    CHECK(apart(one, other) < 0.001);
    CHECK(apart(other, one) < 0.001);
    for (double a = 0; a < 6.3; a += 0.5) {
      const Vec2 to = figure.outline[static_cast<std::size_t>(a / 6.3 * 2000)];
      const auto from = to_lattice(laid->place(to_pixel(paper, image, {kSide / 2, kSide / 2})));
      const auto end = to_lattice(laid->place(to_pixel(paper, image, to_chart(to))));
      CHECK(std::abs(laid->wall->metric->measure(from, end).length_m - glm::length(to - Vec2(kSide / 2))) < kDrape);
    }
  }
}
