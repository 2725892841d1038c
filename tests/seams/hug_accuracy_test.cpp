// Outlines with known equations, hugged by clicks about 60 pixels apart: the mean distance along the whole line is at
// most the larger of half a pixel and a millimetre on the wall.
#include <catch2/catch.hpp>

#include "tests/seams/hug_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPixel = 0.002;     // m
constexpr int kSide = 320;           // pixels
constexpr Vec2 kMiddle(0.32, 0.32);  // m
constexpr double kAllowed = 0.001;   // m: the larger of half a pixel and a millimetre
const Vec3 kGrey(0.5);

// Places of an arc every 3 mm, from angle to angle (radians); not its end.
void add_arc(std::vector<Vec2>& to, Vec2 middle, double radius, double from, double until) {
  const int parts = std::max(1, static_cast<int>(std::ceil(std::abs(until - from) * radius / 0.003)));
  for (int k = 0; k < parts; ++k) {
    const double angle = from + (until - from) * k / parts;
    to.push_back(middle + Vec2(std::cos(angle), std::sin(angle)) * radius);
  }
}
void add_line(std::vector<Vec2>& to, Vec2 from, Vec2 until) {
  const int parts = std::max(1, static_cast<int>(std::ceil(glm::length(until - from) / 0.003)));
  for (int k = 0; k < parts; ++k) to.push_back(from + (until - from) * (static_cast<double>(k) / parts));
}

// The band between r = 0.05 + 0.02 angle and a curve 0.06 farther out, over three quarters of a turn and more.
Figure spiral() {
  std::vector<Vec2> outline;
  const auto at = [](double angle, double more) {
    return kMiddle + Vec2(std::cos(angle), std::sin(angle)) * (0.05 + 0.02 * angle + more);
  };
  constexpr int n = 300;
  for (int k = 0; k < n; ++k) outline.push_back(at(4.6 * k / n, 0));
  add_line(outline, at(4.6, 0), at(4.6, 0.06));
  for (int k = n; k > 0; --k) outline.push_back(at(4.6 * k / n, 0.06));
  add_line(outline, at(0, 0.06), at(0, 0));
  return outlined(std::move(outline));
}

// A capital U: two stems of 60 mm and half rings of radius 130 and 70 mm.
Figure letter_u() {
  std::vector<Vec2> outline;
  const Vec2 m = kMiddle - Vec2(0, 0.04);
  const double top = 0.17;
  add_line(outline, m + Vec2(-0.13, top), m + Vec2(-0.13, 0));
  add_arc(outline, m, 0.13, std::numbers::pi, 2 * std::numbers::pi);
  add_line(outline, m + Vec2(0.13, 0), m + Vec2(0.13, top));
  add_line(outline, m + Vec2(0.13, top), m + Vec2(0.07, top));
  add_line(outline, m + Vec2(0.07, top), m + Vec2(0.07, 0));
  add_arc(outline, m, 0.07, 2 * std::numbers::pi, std::numbers::pi);
  add_line(outline, m + Vec2(-0.07, 0), m + Vec2(-0.07, top));
  add_line(outline, m + Vec2(-0.07, top), m + Vec2(-0.13, top));
  return outlined(std::move(outline));
}

// A capital D: a stem and a half disc.
Figure letter_d() {
  std::vector<Vec2> outline;
  const Vec2 m = kMiddle - Vec2(0.05, 0);
  add_line(outline, m + Vec2(-0.06, 0.15), m + Vec2(-0.06, -0.15));
  add_line(outline, m + Vec2(-0.06, -0.15), m + Vec2(0, -0.15));
  add_arc(outline, m, 0.15, -0.5 * std::numbers::pi, 0.5 * std::numbers::pi);
  add_line(outline, m + Vec2(0, 0.15), m + Vec2(-0.06, 0.15));
  return outlined(std::move(outline));
}

// `grain`: standard deviation of each channel, levels of 255.
Deviation hugged(const Figure& figure, const Vec3& ground, const Vec3& colour, double grain) {
  const PictureFrame frame{{0, 0}, kSide * kPixel, kSide * kPixel, 0};
  auto image = drawn(frame, kSide, kSide, figure, ground, colour);
  std::mt19937 rng(11);
  std::normal_distribution<double> noise(0, std::max(grain, 1e-9));
  for (auto& c : image.rgb) c = static_cast<std::uint8_t>(std::clamp(std::lround(c + noise(rng)), 0l, 255l));
  const auto wall = flat_wall(kSide * kPixel, kSide * kPixel);
  const auto ground_with = ground_of(wall, std::make_shared<ContourField>(contour_field(*draped(wall, image, frame))));
  double length = 0;
  for (std::size_t k = 0; k < figure.outline.size(); ++k)
    length += glm::length(figure.outline[(k + 1) % figure.outline.size()] - figure.outline[k]);
  const auto line = hug(ground_with, clicks(figure, std::max(4, static_cast<int>(length / (60 * kPixel)))), true);
  REQUIRE(line.ok());
  CHECK(line->length_m == Approx(length).epsilon(0.03));
  return deviation(*wall, figure, line->line, true);
}

}  // namespace

TEST_CASE("a circle, a spiral and lettering are followed to a millimetre along their whole length") {
  const auto u = letter_u(), d = letter_d(), round = spiral(), circle = blob(kMiddle, 0.2);
  for (const Figure* figure : {&circle, &round, &u, &d}) {
    const auto off = hugged(*figure, {0.85, 0.8, 0.7}, {0.3, 0.35, 0.5}, 0);
    CAPTURE(off.mean, off.most);
    CHECK(off.mean < kAllowed);
    CHECK(off.most < 4 * kPixel);
  }
}

TEST_CASE("so is a contrast of five hundredths, and grain of twelve levels") {
  const auto u = letter_u(), round = spiral(), circle = blob(kMiddle, 0.2);
  for (const Figure* figure : {&circle, &round, &u}) {
    const auto faint = hugged(*figure, kGrey, kGrey + 0.05, 0), grainy = hugged(*figure, kGrey, kGrey + 0.4, 12),
               both = hugged(*figure, kGrey, kGrey + 0.05, 2);
    CAPTURE(faint.mean, faint.most, grainy.mean, grainy.most, both.mean, both.most);
    CHECK(faint.mean < kAllowed);
    CHECK(grainy.mean < kAllowed);
    CHECK(both.mean < kAllowed);
  }
}

TEST_CASE("colours of equal lightness part as well as light and dark") {
  const auto off = hugged(blob(kMiddle, 0.2), {0.8, 0.2, 0.3}, {0.2, 0.2 + 0.6 * 0.299 / 0.587, 0.3}, 6);
  CAPTURE(off.mean, off.most);
  CHECK(off.mean < kAllowed);
}
