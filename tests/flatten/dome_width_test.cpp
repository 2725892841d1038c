// Local width on a dome, against closed forms of the sphere: it must be that of the surface, where the chart is off by
// more than half.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/flatten/local_width.h"
#include "engine/flatten/medial_axis.h"
#include "engine/wall/shapes.h"
#include "tests/fixtures/walls.h"

using namespace pontata;

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kRadius = 2;  // m; half a sphere

const WallRef& dome() {
  static const WallRef wall =
      build_wall({.kind = ShapeKind::dome, .span = 2 * kRadius, .rise = kRadius}, {}, "dome").value();
  return wall;
}

// Chart place of a unit direction from the sphere's centre: arc length from the crown, seen from below.
LatticePoint place(const Vec3& way) {
  const ChartBox box = dome()->chart->box();
  const double s = kRadius * std::acos(std::clamp(way.z, -1.0, 1.0)), turn = std::atan2(way.y, way.x);
  return to_lattice(to_chart(0.5 * Vec2(box.width, box.height) + s * Vec2(std::cos(turn), -std::sin(turn))));
}

// A place `t` m down the meridian toward +x and `aside` m from it, along the great circle square to it.
LatticePoint beside_meridian(double t, double aside) {
  const double a = t / kRadius, d = aside / kRadius;
  return place({std::cos(d) * std::sin(a), std::sin(d), std::cos(d) * std::cos(a)});
}

// The ring made of `one` from its first value to its last and `other` back. Counter-clockwise either way.
template <class One, class Other>
Ring ring_between(double from, double to, int steps, const One& one, const Other& other) {
  Ring ring;
  for (int k = 0; k <= steps; ++k) ring.push_back(one(from + (to - from) * k / steps));
  for (int k = steps; k >= 0; --k) ring.push_back(other(from + (to - from) * k / steps));
  ring.erase(std::unique(ring.begin(), ring.end()), ring.end());
  if (ring.front() == ring.back()) ring.pop_back();
  double twice = 0;
  for (std::size_t k = 0; k < ring.size(); ++k) {
    const Vec2 a = to_vec(to_chart(ring[k])), b = to_vec(to_chart(ring[(k + 1) % ring.size()]));
    twice += cross2(a, b);
  }
  if (twice < 0) std::reverse(ring.begin(), ring.end());
  return ring;
}

struct Laid {
  Patch patch;
  Flattening flat;
};
// As the review lays it.
Laid laid(const Ring& ring) {
  const std::vector<Ring> rings{ring};
  auto patch = make_patch(*dome(), rings, PatchOptions{.spacing_m = 0.05, .limit = 20000});
  REQUIRE(patch.ok());
  auto flat = flatten(*patch, FlattenOptions{.iterations = 12, .lower_greatest = false});
  REQUIRE(flat.ok());
  return {std::move(*patch), std::move(*flat)};
}

std::vector<std::vector<Vec2>> rims_of(const Laid& on) {
  std::vector<std::vector<Vec2>> rims;
  for (const auto& rim : on.patch.rims) {
    rims.emplace_back();
    for (const std::uint32_t v : rim) rims.back().push_back(on.flat.flat[v]);
  }
  return rims;
}

double chart_width(double t, double half) {
  const Vec2 a = to_vec(to_chart(beside_meridian(t, -half))), b = to_vec(to_chart(beside_meridian(t, half)));
  return glm::distance(a, b);
}

}  // namespace

TEST_CASE("a strip of constant width along a meridian is as wide as on the sphere, all along") {
  // Its medial axis is the meridian, its width that between the two curves at one distance from it.
  const double width = 0.05, from = 1.9, to = 3.0;
  const Ring ring = ring_between(
      from, to, 60, [&](double t) { return beside_meridian(t, -width / 2); },
      [&](double t) { return beside_meridian(t, width / 2); });
  CHECK(chart_width(3.0, width / 2) > 1.45 * width);  // what the chart would say
  const Laid on = laid(ring);
  const auto thin = thin_place(on.patch, on.flat, 0.06, 30);
  REQUIRE(thin);
  CHECK(thin->width_m == Approx(width).epsilon(0.003));
  const MedialAxis axis = medial_axis(rims_of(on), 0.003);
  double widest = 0;
  for (const double r : axis.radius) widest = std::max(widest, 2 * r);
  CHECK(widest == Approx(width).epsilon(0.003));
  // Nothing is thin where the limit lies just below.
  CHECK_FALSE(thin_place(on.patch, on.flat, 0.0495, 30));
}

TEST_CASE("a lune's inscribed discs have the radii of spherical trigonometry") {
  // A lune of angle a with its tip at the crown, cut off by parallels at t = 2.0 and 2.8 m: the disc centred t from the
  // tip that touches both meridians has radius r with sin(r / R) = sin(t / R) sin(a / 2) (right-angled spherical
  // triangle, Napier's rules). The narrowest disc touches the upper parallel too: t - r = 2.0.
  const double angle = 0.04;
  const auto meridian = [&](double turn) {
    return [turn](double t) {
      const double a = t / kRadius;
      return place({std::sin(a) * std::cos(turn), std::sin(a) * std::sin(turn), std::cos(a)});
    };
  };
  const Ring ring = ring_between(2.0, 2.8, 50, meridian(-angle / 2), meridian(angle / 2));
  double r = 0;
  for (int k = 0; k < 50; ++k) r = kRadius * std::asin(std::sin((2.0 + r) / kRadius) * std::sin(angle / 2));
  const Laid on = laid(ring);
  const auto thin = thin_place(on.patch, on.flat, 0.085, 30);
  REQUIRE(thin);
  CHECK(thin->width_m == Approx(2 * r).epsilon(0.005));
  const MedialAxis axis = medial_axis(rims_of(on), 0.003);
  double widest = 0, low = 0;
  for (const double radius : axis.radius) widest = std::max(widest, radius);
  for (int k = 0; k < 50; ++k) low = kRadius * std::asin(std::sin((2.8 - low) / kRadius) * std::sin(angle / 2));
  CHECK(widest == Approx(low).epsilon(0.005));
}

TEST_CASE("a tip between two meridians has their angle") {
  for (const double degrees : {15.0, 25.0, 40.0}) {
    const double half = degrees * kPi / 360;
    // The tip lies 1.5 m from the crown: two great circles through it, to either side of the meridian.
    const auto side = [&](double sign) {
      return [&, sign](double s) {
        const double a = 1.5 / kRadius, d = s / kRadius;
        const Vec3 tip(std::sin(a), 0, std::cos(a)), down(std::cos(a), 0, -std::sin(a)), across(0, 1, 0);
        return place(std::cos(d) * tip + std::sin(d) * (std::cos(half) * down + sign * std::sin(half) * across));
      };
    };
    const Laid on = laid(ring_between(0, 0.8, 40, side(-1), side(1)));
    const auto thin = thin_place(on.patch, on.flat, 0.06, 35);
    INFO(degrees);
    CHECK(thin.has_value() == (degrees < 35));
    if (thin) CHECK(thin->angle_deg == Approx(degrees).margin(0.5));
  }
}

TEST_CASE("a cap's widest disc is the cap") {
  for (const double radius : {0.05, 0.2}) {
    // Round a place 2 m from the crown, where the chart draws it out by half.
    const double a = 2.0 / kRadius, d = radius / kRadius;
    const Vec3 middle(std::sin(a), 0, std::cos(a)), down(std::cos(a), 0, -std::sin(a)), across(0, 1, 0);
    Ring ring;
    for (int k = 0; k < 72; ++k) {
      const double turn = 2 * kPi * k / 72;
      ring.push_back(place(std::cos(d) * middle + std::sin(d) * (std::cos(turn) * down + std::sin(turn) * across)));
    }
    double twice = 0;
    for (std::size_t k = 0; k < ring.size(); ++k)
      twice += cross2(to_vec(to_chart(ring[k])), to_vec(to_chart(ring[(k + 1) % ring.size()])));
    if (twice < 0) std::reverse(ring.begin(), ring.end());
    const Laid on = laid(ring);
    const MedialAxis axis = medial_axis(rims_of(on), radius / 20);
    // The inscribed disc of a ring of 72 sides, and what a cap stretches when laid flat.
    const double sides = std::cos(kPi / 72), bent = 1 + radius * radius / (kRadius * kRadius);
    const double widest = *std::max_element(axis.radius.begin(), axis.radius.end());
    CHECK(widest <= radius * bent);
    CHECK(widest >= radius * sides / bent);
  }
}
