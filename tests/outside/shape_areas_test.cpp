// Areas of every shape against closed forms: at the default chord tolerance, and how the error falls with it. Prints
// the table that it checks.

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <functional>
#include <numbers>

#include "engine/wall/shape_cusps.h"
#include "tests/fixtures/shapes.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;
using enum ShapeKind;

// Adaptive Simpson's rule.
double integral(const std::function<double(double)>& f, double a, double b, double within, int depth = 40) {
  const double m = (a + b) / 2, h = b - a;
  const double coarse = h / 6 * (f(a) + 4 * f(m) + f(b));
  const double fine = h / 12 * (f(a) + 4 * f((a + m) / 2) + 2 * f(m) + 4 * f((m + b) / 2) + f(b));
  if (depth == 0 || std::abs(fine - coarse) < 15 * within) return fine + (fine - coarse) / 15;
  return integral(f, a, m, within / 2, depth - 1) + integral(f, m, b, within / 2, depth - 1);
}

// By quadrature over the angle of the section: each web is a strip of straight lines between the arris and the wall
// (groin) or between the arrises (cloister).
double webs_by_quadrature(const ShapeSpec& s) {
  const double half = s.span / 2, radius = (half * half + s.rise * s.rise) / (2 * s.rise);
  const double end = 2 * std::atan(s.rise / half);
  const auto two_webs = [&](double drawn_out, double line) {  // half length of the straight lines at the wall
    return 4 * integral(
                   [&](double psi) {
                     const double share = std::sin(psi) / std::sin(end);
                     const double arc = radius * std::hypot(drawn_out * std::cos(psi), std::sin(psi));
                     return arc * line * (s.kind == groin ? 1 - share : share);
                   },
                   0, end, 1e-12);
  };
  return two_webs(1, s.length / 2) + two_webs(s.length / s.span, half);
}

double area_at(const ShapeSpec& spec, double tolerance) {
  return triangles_area(tessellate(spec, {}, tolerance).mesh) + area_left_out(spec);
}

}  // namespace

TEST_CASE("every shape is within 1e-4 of its closed form, and the error falls in proportion to the tolerance") {
  std::string table = fmt::format("{:<46} {:>12} {:>12} {:>10} {:>10} {:>7}\n", "shape (m, degrees)", "closed m2",
                                  "default m2", "tol. mm", "error", "slope");
  for (const auto& spec : every_shape()) {
    const double exact = closed_form_area(spec), tolerance = default_tolerance(spec);
    const double area = area_at(spec, tolerance), error = area / exact - 1;
    const double coarse = area_at(spec, 16 * tolerance) / exact - 1;
    const double slope = std::log2(std::abs(coarse / error)) / 4;  // over four octaves
    const bool exactly_flat = spec.kind == flat;
    table += fmt::format("{:<46} {:>12.6f} {:>12.6f} {:>10.4f} {:>10.1e} {:>7}\n", told(spec), exact, area,
                         1e3 * tolerance, error, exactly_flat ? "exact" : fmt::format("{:.3f}", slope));
    INFO(told(spec));
    CHECK(std::abs(error) < 1e-4);
    if (exactly_flat)
      CHECK(std::abs(error) < 1e-14);
    else
      CHECK(slope == Approx(1).margin(0.1));
  }
  fmt::print("{}", table);
}

TEST_CASE("closed forms of the shapes are those of the tables") {
  const auto check = [](const ShapeSpec& spec, double value, double digits) {
    INFO(told(spec));
    CHECK(std::abs(closed_form_area(spec) - value) < 0.6 * digits);  // all digits given
  };
  // Groin and cloister on a square: 4 (pi - 2) r^2 and 8 r^2 (half of Steinmetz's bicylinder, surface 16 r^2).
  check({.kind = groin, .span = 4, .length = 4, .rise = 2}, 18.26548, 1e-5);
  check({.kind = cloister, .span = 4, .length = 4, .rise = 2}, 32, 1e-12);
  // Sail: spherical cap and zone (any table of geometric shapes), 2 pi R^2 (sqrt 2 - 1); side 4.
  check({.kind = sail, .side = 4}, 20.82064, 1e-5);
  // One of its four pendentives: (sail - cap of plan radius 2) / 4 = (20.82064 - 14.72242) / 4.
  check({.kind = pendentive, .side = 4}, 1.52456, 1e-5);
  // Conical frustum pi (r1 + r2) s, r 2 to 1, h 3 (calculatorsoup.com, Geometric Shapes).
  check({.kind = cone, .height = 3, .span = 4, .top_span = 2, .angle_deg = 360}, 29.80376, 1e-5);
  // Torus 4 pi^2 R r (Korn and Korn, Mathematical Handbook, p. 749): its upper half with R 5, r 2, and a quarter of it.
  check({.kind = annular, .inner = 3, .outer = 7, .angle_deg = 360}, 197.39209, 1e-5);
  check({.kind = annular, .inner = 3, .outer = 7, .angle_deg = 90}, 49.34802, 1e-5);
  // Equilateral pointed barrel, span 4, length 6: two arcs of 60 degrees with radius 4, 8.37758 together.
  check({.kind = pointed_barrel, .span = 4, .length = 6, .radius = 4}, 50.26548, 1e-5);
  // Half ellipses, complete elliptic integral: semi-axes 1.5 x 1 and 2 x 1, lying and standing; a full ellipse of
  // 5 x 3 has 25.52699886 round it.
  check({.kind = elliptical_barrel, .span = 3, .length = 1, .rise = 1}, 3.966359897, 1e-9);
  check({.kind = elliptical_barrel, .span = 4, .length = 1, .rise = 1}, 4.844224110, 1e-9);
  check({.kind = elliptical_barrel, .span = 2, .length = 1, .rise = 2}, 4.844224110, 1e-9);
  check({.kind = elliptical_barrel, .span = 10, .length = 1, .rise = 3}, 25.52699886 / 2, 1e-8);
  // Cylinder, circular segment r^2 (2 t - sin 2 t) / 2: any table of geometric shapes.
  check({.kind = drum, .height = 3, .span = 4, .angle_deg = 90}, 3 * kPi, 1e-12);
  check({.kind = lunette, .span = 4, .rise = 2}, 2 * kPi, 1e-12);
  const double t = 2 * std::atan(0.25), r = (4 + 0.25) / 1;  // span 4, rise 0.5
  check({.kind = lunette, .span = 4, .rise = 0.5}, r * r * (2 * t - std::sin(2 * t)) / 2, 1e-12);
}

TEST_CASE("groin and cloister over an oblong plan agree with quadrature, and together are two barrels") {
  Random random(8);
  for (const auto kind : {groin, cloister})
    for (int i = 0; i < 20; ++i) {
      const auto spec = random_shape(kind, random);
      INFO(told(spec));
      CHECK(closed_form_area(spec) == Approx(webs_by_quadrature(spec)).epsilon(1e-9));
    }
  const ShapeSpec vault{.kind = groin, .span = 4, .length = 4, .rise = 1.3};
  ShapeSpec other = vault, barrel_of = vault;
  other.kind = cloister, barrel_of.kind = barrel;
  CHECK(closed_form_area(vault) + closed_form_area(other) == Approx(2 * closed_form_area(barrel_of)).epsilon(1e-13));
}

TEST_CASE("random proportions keep to their closed forms at the default tolerance, moved and turned") {
  Random random(9);
  for (const auto kind : all_shapes())
    for (int i = 0; i < 3; ++i) {
      const auto spec = random_shape(kind, random);
      INFO(told(spec));
      const Placement3 placement{{12, -3, 4.5}, random.uniform(0, 360)};
      const auto shape = tessellate(spec, placement, default_tolerance(spec));
      CHECK(triangles_area(shape.mesh) == Approx(closed_form_area(spec)).epsilon(1e-4));
    }
}

TEST_CASE("what a cusp leaves out is what is missing from the closed form") {
  // At a tolerance so fine that the chords' own error is smaller: the groin's strips are 8 times arc 5 mm times a third
  // of r (1 - cos 0.0025); the tips' width grows as y^2 / (r sqrt 2).
  const ShapeSpec vault{.kind = groin, .span = 4, .length = 4, .rise = 2};
  CHECK(area_left_out(vault) == Approx(8 * 0.005 / 3 * 2 * (1 - std::cos(0.0025))).epsilon(1e-3));
  const ShapeSpec corner{.kind = pendentive, .side = 4};
  CHECK(area_left_out(corner) == Approx(2 * std::pow(0.005, 3) / (3 * std::sqrt(2.0) * 2)).epsilon(1e-6));
  for (const auto& spec : every_shape()) CHECK(area_left_out(spec) < 2e-6 * closed_form_area(spec));
}
