// Areas and coats of vaults against closed forms, taken from the rim of a region as every giornata's figures are.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "tests/fixtures/clipping.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

// The whole wall by its border.
EdgeMeasure whole(const WallRef& wall) { return rim(*wall, wall->chart->border_rings()[0]); }

double coat(const EdgeMeasure& sums, double thickness) {
  return coat_volume(sums.area_m2, sums.bend_m, sums.gauss, thickness);
}

}  // namespace

TEST_CASE("vault areas agree with tables of geometric shapes") {
  // Cylinder and rectangle: any table of geometric shapes. Semicircular barrel r 2, L 6: pi r L = 37.69911.
  CHECK(whole(barrel_wall(4, 6, 2)).area_m2 == Approx(37.69911).epsilon(1e-4));
  CHECK(whole(flat_wall(3, 2)).area_m2 == Approx(6).epsilon(1e-12));
  // Segmental barrel: circular segment of chord 5, sagitta 0.8: R = (2.5^2 + 0.8^2) / 1.6 = 4.30625,
  // arc = 2 R asin(2.5 / R) (any table of the circle), times the length.
  CHECK(whole(barrel_wall(5, 3, 0.8)).area_m2 == Approx(3 * 2 * 4.30625 * std::asin(2.5 / 4.30625)).epsilon(1e-4));
  // Spherical cap pi (a^2 + h^2), a = 3, h = 1: R = 5, 31.41593 (calculatorsoup.com, Geometric Shapes).
  CHECK(whole(dome_wall(6, 1)).area_m2 == Approx(31.41593).epsilon(1e-4));
  CHECK(whole(dome_wall(6, 3)).area_m2 == Approx(2 * kPi * 9).epsilon(1e-4));
  // Apse: half of a cylinder pi r h and a quarter of a sphere pi r^2.
  CHECK(whole(apse_wall(4, 3)).area_m2 == Approx(kPi * 2 * 3 + kPi * 4).epsilon(1e-4));
}

TEST_CASE("the closed forms that the shapes state are the tables'") {
  CHECK(closed_form_area(barrel_spec(4, 6, 2)) == Approx(37.69911).epsilon(1e-7));
  CHECK(closed_form_area(barrel_spec(5, 3, 0.8)) == Approx(6 * 4.30625 * std::asin(2.5 / 4.30625)).epsilon(1e-12));
  CHECK(closed_form_area(dome_spec(6, 1)) == Approx(31.41593).epsilon(1e-6));
  CHECK(closed_form_area(apse_spec(4, 3)) == Approx(10 * kPi).epsilon(1e-12));
  CHECK(closed_form_area(flat_spec(3, 2)) == 6);
}

TEST_CASE("a coat inside a hemisphere is the shell between two spheres") {
  // R 3 m, 15 mm: 2/3 pi (3^3 - 2.985^3) = 0.8439959 m^3; area times thickness would be 0.8482300.
  constexpr double kShell = 0.8439959;
  const auto sums = whole(dome_wall(6, 3));
  CHECK(coat(sums, 0.015) == Approx(kShell).epsilon(1e-4));
  CHECK(std::abs(sums.area_m2 * 0.015 / kShell - 1) > 1e-3);  // without the curvature terms it would fail
  CHECK(std::abs(coat({sums.area_m2, -sums.bend_m, sums.gauss, 0}, 0.015) / kShell - 1) >
        1e-3);  // or on the wrong side
  CHECK(sums.bend_m == Approx(-2 * sums.area_m2 / 3).epsilon(1e-9));
  CHECK(sums.gauss == Approx(2 * kPi).epsilon(1e-4));  // Gauss and Bonnet: the rim is a geodesic
}

TEST_CASE("a coat inside a half cylinder is the shell between two cylinders") {
  // r 0.5 m, L 4 m, 15 mm: 2 pi (0.5^2 - 0.485^2) = 0.0928341 m^3; area times thickness would be 0.0942478.
  constexpr double kShell = 0.0928341;
  const auto sums = whole(barrel_wall(1, 4, 0.5));
  CHECK(coat(sums, 0.015) == Approx(kShell).epsilon(1e-4));
  CHECK(std::abs(sums.area_m2 * 0.015 / kShell - 1) > 1e-3);
  CHECK(sums.gauss == Approx(0).margin(1e-12));
}

TEST_CASE("a coat on a flat wall is area times thickness, and one in an apse the sum of its two shells") {
  CHECK(coat(whole(flat_wall(3, 2)), 0.015) == Approx(0.09).epsilon(1e-12));
  // Half cylinder r 2, h 3 and quarter sphere: pi/2 (2^2 - 1.985^2) 3 + pi/3 (2^3 - 1.985^3).
  const double shell = kPi / 2 * (4 - 1.985 * 1.985) * 3 + kPi / 3 * (8 - 1.985 * 1.985 * 1.985);
  CHECK(coat(whole(apse_wall(4, 3)), 0.015) == Approx(shell).epsilon(1e-4));
}

TEST_CASE("a zone of a dome between two parallels and two meridians has the area of the spherical zone") {
  // Zone of a sphere 2 pi R (h2 - h1) (any table of geometric shapes), a sixth of the turn; R 3 m, from 20 to 60
  // degrees.
  const auto wall = dome_wall(6, 3);
  const double c = wall->chart->box().width / 2;
  const auto at = [&](double theta, double turn) {
    return to_lattice({c + 3 * theta * std::cos(turn), c + 3 * theta * std::sin(turn)});
  };
  Ring ring;
  constexpr int n = 2000;
  const double low = kPi / 9, high = kPi / 3;
  for (int i = 0; i < n; ++i) ring.push_back(at(high, kPi / 3 * i / n));
  for (int i = 0; i < n; ++i) ring.push_back(at(high + (low - high) * i / n, kPi / 3));
  for (int i = 0; i < n; ++i) ring.push_back(at(low, kPi / 3 * (n - i) / n));
  for (int i = 0; i < n; ++i) ring.push_back(at(low + (high - low) * i / n, 0));
  const auto sums = rim(*wall, ring);
  const double exact = 2 * kPi * 9 * (std::cos(low) - std::cos(high)) / 6;
  CHECK(sums.area_m2 == Approx(exact).epsilon(1e-4));
  const double around = 3 * kPi / 3 * (std::sin(low) + std::sin(high)) + 2 * 3 * (high - low);
  CHECK(sums.length_m == Approx(around).epsilon(1e-4));
  // In chart metres the same ring is larger: a sixth of an annulus.
  const double chart_area = kPi * 9 * (high * high - low * low) / 6;
  CHECK(std::abs(chart_area / exact - 1) > 0.05);
}

TEST_CASE("a circle drawn on a barrel's chart keeps its area on the surface") {
  // A developable surface: the chart of a cylinder is isometric, so a disc of radius 1 has area pi.
  const auto wall = barrel_wall(4, 6, 2);
  Ring ring;
  for (int i = 0; i < 4000; ++i)
    ring.push_back(to_lattice({3 + std::cos(kPi * i / 2000), kPi + std::sin(kPi * i / 2000)}));
  const auto sums = rim(*wall, ring);
  CHECK(sums.area_m2 == Approx(kPi).epsilon(5e-5));
  CHECK(sums.length_m == Approx(2 * kPi).epsilon(5e-5));
  const auto clipped = clipped_terms(*wall, ring);
  CHECK(std::abs(sums.area_m2 - clipped.area) < 1e-9 * sums.length_m);
}
