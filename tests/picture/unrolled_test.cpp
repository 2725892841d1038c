// A picture laid by unrolled metres: rows of pixels against lengths of arc on the exact surface. The arcs are closed
// forms (circles) or an incomplete elliptic integral of the standard library (ISO/IEC 14882, std::ellint_2), taken from
// places of the exact surface, not from facets.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/picture/lay.h"
#include "engine/wall/shape_point.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kTenthMm = 1e-4;  // m

// Arc length from the springing at y = +span/2 to a place of the barrel.
double arc_to(const ShapeSpec& spec, const Vec3& p) {
  const double a = spec.span / 2;
  if (spec.kind == ShapeKind::barrel) {
    const double radius = (a * a + spec.rise * spec.rise) / (2 * spec.rise), low = spec.rise - radius;
    return radius * (std::atan2(p.z - low, p.y) - std::atan2(-low, a));
  }
  if (spec.kind == ShapeKind::elliptical_barrel) {
    // Ellipse y = a cos t, z = b sin t: length of 0..t is b E(phi..) with the angle counted from the end of the major
    // axis; written so that the modulus is real for either proportion.
    const double b = spec.rise, t = std::atan2(p.z / b, p.y / a);
    if (b >= a) return b * std::ellint_2(std::sqrt(1 - a * a / (b * b)), t);
    const double k = std::sqrt(1 - b * b / (a * a));
    return a * (std::ellint_2(k, kPi / 2) - std::ellint_2(k, kPi / 2 - t));
  }
  // Two arcs of one radius about points on the springing line.
  const double r = spec.radius, centre = r - a, half = r * std::acos(centre / r);
  const double from_springing = r * std::asin(p.z / r);
  return p.y >= 0 ? from_springing : 2 * half - from_springing;
}

void check_lengths(const ShapeSpec& spec, double turn_deg) {
  const auto wall = built(spec);
  const PictureSize size{1000, 4000};
  // The picture's height, or turned its width, runs along the arc.
  const bool along_width = turn_deg != 0;
  const ChartPoint at{along_width ? 2.0 : 0.5, 0.1};
  const auto frame = place_by_size(*wall, size, at, along_width ? 0.9 : 0.7, turn_deg);
  REQUIRE(frame.ok());
  const double metres_a_pixel = (along_width ? 0.9 : 0.7) / 1000;
  const double whole = wall->chart->box().height;
  double worst = 0;
  for (int k = 0; k <= 400; ++k) {
    const double pixels = (along_width ? 1000.0 : 4000.0) * k / 400;
    const Vec2 pixel = along_width ? Vec2(pixels, 2000) : Vec2(500, 4000 - pixels);
    const ChartPoint p = from_pixel(*frame, size, pixel);
    if (p.v > whole) break;
    const double length = arc_to(spec, shape_point(spec, to_vec(p)).place) - 0.1;
    worst = std::max(worst, std::abs(length - pixels * metres_a_pixel));
    // And the lay gives the pixel back.
    CHECK(glm::length(pixel_at(*frame, {}, size, p, {}).value() - pixel) < 1e-6);
  }
  INFO("worst " << 1e6 * worst << " um");
  CHECK(worst < kTenthMm);
}

}  // namespace

TEST_CASE("unrolled on a barrel, lengths along the arc are true to 0.1 mm") {
  for (const ShapeSpec& spec : {barrel_spec(4, 6, 2), barrel_spec(5, 3, 0.8), barrel_spec(3, 4, 0.3),
                                ShapeSpec{.kind = ShapeKind::elliptical_barrel, .span = 3, .length = 6, .rise = 1},
                                ShapeSpec{.kind = ShapeKind::elliptical_barrel, .span = 4, .length = 5, .rise = 3},
                                ShapeSpec{.kind = ShapeKind::pointed_barrel, .span = 4, .length = 6, .radius = 4},
                                ShapeSpec{.kind = ShapeKind::pointed_barrel, .span = 4, .length = 6, .radius = 2.3}}) {
    check_lengths(spec, 0);
    check_lengths(spec, 90);
  }
}

TEST_CASE("the whole arc of a barrel is as long as the closed form") {
  // Semicircle: pi R; an equilateral pointed arch: two thirds of a turn of its radius times one half.
  CHECK(built(barrel_spec(4, 6, 2))->chart->box().height == Approx(2 * kPi).margin(kTenthMm));
  CHECK(built({.kind = ShapeKind::pointed_barrel, .span = 4, .length = 6, .radius = 4})->chart->box().height ==
        Approx(2 * 4 * kPi / 3).margin(kTenthMm));
}
