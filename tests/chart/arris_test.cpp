// Coats where two webs meet at an arris: the mitre on the bisecting plane.
#include "engine/chart/arris.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/base/predicates.h"
#include "tests/fixtures/clipping.h"
#include "tests/fixtures/layouts.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

// Two equal half cylinders of radius r crossing over a square, seen from below over its plan: a groin vault (the room
// is where either cylinder is open) or a cloister vault (where both are). 2 n columns and rows, equal angles apart.
WallRef crossing(double r, int n, bool groin) {
  SurfaceMesh mesh;
  std::vector<Vec2> address;
  const auto angle = [&](int i) { return kPi / 2 * (i - n) / n; };
  const auto side = 2 * n + 1;
  for (int j = 0; j < side; ++j)
    for (int i = 0; i < side; ++i) {
      const double a = std::abs(angle(i)), b = std::abs(angle(j)), height = groin ? std::min(a, b) : std::max(a, b);
      mesh.points.push_back({r * std::sin(angle(i)), -r * std::sin(angle(j)), r * std::cos(height)});
      address.push_back({mesh.points.back().x, -mesh.points.back().y});
    }
  // Normals of the cylinder along y at an even index, of the one along x at the odd one after it.
  for (int j = 0; j < side; ++j)
    for (int i = 0; i < side; ++i) {
      mesh.normals.push_back({-std::sin(angle(i)), 0, -std::cos(angle(i))});
      mesh.normals.push_back({0, std::sin(angle(j)), -std::cos(angle(j))});
    }
  const auto add = [&](std::array<std::pair<int, int>, 3> corners) {
    double x = 0, y = 0;
    for (const auto& [i, j] : corners) x += std::abs(angle(i)), y += std::abs(angle(j));
    const std::uint32_t web = (x < y) == groin ? 0 : 1;
    Triangle t{}, normals{};
    for (std::size_t k = 0; k < 3; ++k) {
      t[k] = static_cast<std::uint32_t>(corners[k].second * side + corners[k].first);
      normals[k] = 2 * t[k] + web;
    }
    mesh.triangles.push_back(t), mesh.corner_normals.push_back(normals);
  };
  for (int j = 0; j + 1 < side; ++j)
    for (int i = 0; i + 1 < side; ++i) {
      const std::pair<int, int> a{i, j}, b{i + 1, j}, c{i + 1, j + 1}, d{i, j + 1};
      if ((i < n) == (j < n))
        add({a, b, c}), add({a, c, d});
      else
        add({a, b, d}), add({b, c, d});
    }
  return chart_wall(std::make_shared<const SurfaceMesh>(std::move(mesh)), address, "crossing", false).value();
}

EdgeMeasure whole(const ChartedWall& wall) { return rim(wall, wall.chart->border_rings()[0]); }

double coat(const EdgeMeasure& m, double t) { return coat_volume(m.area_m2, m.bend_m, m.gauss, t); }

double coat_of_webs(const ChartedWall& wall, double t) {
  Vec3 sum{0, 0, 0};
  for (std::uint32_t k = 0; k < wall.mesh().triangles.size(); ++k) sum += wall.metric->web_terms(k);
  return coat_volume(sum.x, sum.y, sum.z, t);
}

// m^3 between the groin and its parallel surface, by heights over the plan: the room is as high as the higher of both
// cylinders, so at (x, y) sqrt(r^2 - m^2) with m = min(abs x, abs y), and the plastered room the same with r - t.
// Midpoint rule in x = r sin(a), y = r sin(b).
double groin_shell(double r, double t, int n) {
  const auto height = [](double radius, double m) { return std::sqrt(std::max(0.0, radius * radius - m * m)); };
  double sum = 0;
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < n; ++j) {
      const double a = kPi / 2 * (i + 0.5) / n, b = kPi / 2 * (j + 0.5) / n;
      const double m = r * std::min(std::sin(a), std::sin(b));
      sum += (height(r, m) - height(r - t, m)) * r * r * std::cos(a) * std::cos(b);
    }
  return 4 * sum * (kPi / 2 / n) * (kPi / 2 / n);
}

struct Strip {
  Network network;
  std::vector<Giornata> giornate;
};

Strip giornata_over(const ChartedWall& wall, const Ring& ring) {
  auto network = Network::from_border(wall.chart->border_rings(), wall.metric->meter());
  REQUIRE(network.ok());
  auto inserted = insert_outline(*network, ring, GiornataId{1}, wall.metric->meter());
  REQUIRE(inserted.ok());
  Giornata g;
  g.id = GiornataId{1};
  return {inserted->network, {g}};
}

}  // namespace

TEST_CASE("a coat on a groin is 1.80 L more than on its webs, on a cloister as much less") {
  // At the angle a from the crown the arris is r (sin a, sin a, cos a), so dL = r sqrt(1 + cos^2 a) da; the normals
  // (sin a, 0, cos a) and (0, sin a, cos a) give cos phi = cos^2 a, hence tan(phi / 2) = sin a / sqrt(1 + cos^2 a), and
  // the integral over one arris from the crown to the foot is r. Four of them: 4 r t^2 = 8 x 0.015^2 = 0.00180 m^3.
  constexpr double r = 2, t = 0.015;
  for (const bool groin : {true, false}) {
    const auto wall = crossing(r, 60, groin);
    const double more = coat(whole(*wall), t) - coat_of_webs(*wall, t);
    CHECK(more == Approx(groin ? 0.0018 : -0.0018).epsilon(5e-4));
    for (const double thin : {0.005, 0.010})
      CHECK(std::abs(coat(whole(*wall), thin) - coat_of_webs(*wall, thin)) == Approx(8 * thin * thin).epsilon(5e-4));
  }
}

TEST_CASE("the coat on a groin or cloister is the volume between the vault and its parallel surface") {
  constexpr double r = 2, t = 0.015;
  const auto groin = crossing(r, 80, true), cloister = crossing(r, 80, false);
  const double shell = groin_shell(r, t, 1500);
  CHECK(coat(whole(*groin), t) == Approx(shell).epsilon(1.5e-4));
  CHECK(std::abs(coat_of_webs(*groin, t) / shell - 1) > 5e-3);  // without the arrises it would fail
  // Cloister vault over a square: 8 r^3 / 3 (Steinmetz; MathWorld, "Vault"), less the same of r - t.
  const double inside = 8.0 / 3 * (std::pow(r, 3) - std::pow(r - t, 3));
  CHECK(coat(whole(*cloister), t) == Approx(inside).epsilon(1.5e-4));
  CHECK(std::abs(coat_of_webs(*cloister, t) / inside - 1) > 3e-3);
}

TEST_CASE("sums along rims agree with clipped triangles where arrises are crossed") {
  const auto wall = crossing(2, 20, true);
  Ring ring;
  for (int k = 0; k < 40; ++k)
    ring.push_back(to_lattice({2.1 + 1.4 * std::cos(kPi * k / 20), 1.8 + 1.2 * std::sin(kPi * k / 20)}));
  const auto clipped = clipped_terms(*wall, ring);
  CHECK(rim(*wall, ring).bend_m == Approx(clipped.bend).epsilon(1e-10));
}

TEST_CASE("smooth walls have no arrises, and both sides of one get the same") {
  CHECK(arris_bends(*barrel_wall(4, 6, 2, 1e-3)->chart).empty());
  CHECK(arris_bends(*apse_wall(3, 1.5, 1e-3)->chart).empty());
  const auto wall = crossing(1, 10, true);
  const auto bends = arris_bends(*wall->chart);
  double by_x = 0, by_y = 0;
  for (std::uint32_t t = 0; t < bends.size(); ++t)
    (wall->mesh().corner_normals[t][0] % 2 == 0 ? by_x : by_y) += bends[t];
  CHECK(by_x == Approx(4).epsilon(3e-3));  // half of 8 r: a1 t^2 / 2 is 4 r t^2
  CHECK(by_y == Approx(by_x).epsilon(1e-12));
}

TEST_CASE("an arris is no hollow of radius 0") {
  for (const bool groin : {true, false}) {
    const auto wall = crossing(2, 40, groin);
    const auto strip = giornata_over(
        *wall, {to_lattice({2.5, 2.5}), to_lattice({3.2, 2.5}), to_lattice({3.2, 3.2}), to_lattice({2.5, 3.2})});
    const auto measure = measure_wall(*wall, strip.network, strip.giornate);
    REQUIRE(measure.giornate.size() == 1);
    CHECK(measure.giornate[0].least_concave_radius_m == Approx(2).epsilon(1e-3));
  }
}

TEST_CASE("a strip narrower than the coat in a hollow arris fills up and no more") {
  // Beside the arris of a cloister at 60 degrees: a strip w wide between arris and seam holds w^2 / (2 tan(phi / 2)) at
  // most (elementary: the coat's section is a triangle).
  const auto wall = crossing(0.5, 100, false);
  const auto ridge = [](double a) { return 0.5 + 0.5 * std::sin(a); };
  Ring ring;
  const double low = kPi / 3 - 0.05, high = kPi / 3 + 0.05;
  ring.push_back(to_lattice({ridge(low), ridge(low)}));
  ring.push_back(to_lattice({ridge(low), ridge(low) - 0.008}));
  ring.push_back(to_lattice({ridge(high), ridge(high) - 0.008}));
  ring.push_back(to_lattice({ridge(high), ridge(high)}));
  if (twice_area(ring) < 0) std::reverse(ring.begin(), ring.end());
  const auto strip = giornata_over(*wall, ring);
  const auto m = measure_wall(*wall, strip.network, strip.giornate).giornate.at(0);
  double before = 0;
  for (double t = 0.001; t < 0.06; t += 0.001) {
    const double volume = coat_volume(m.area_m2, m.bend_m, m.gauss, t);
    REQUIRE(volume >= before);
    before = volume;
  }
  CHECK(before > 0);
  CHECK(before == coat_volume(m.area_m2, m.bend_m, m.gauss, 10));
  CHECK(before < m.area_m2 * 0.015);
}

namespace {

ShapeSpec vault(ShapeKind kind, double span, double length, double rise) {
  return {.kind = kind, .span = span, .length = length, .rise = rise};
}

// Integral of tan(phi / 2) over all four arrises: over the span the profile is a circle of radius R, over the length
// the same drawn out k times, and the arris stands over the diagonal: (R sin a, k R sin a, R cos a) at the angle a from
// the crown. Midpoint rule.
double half_tangents(double span, double length, double rise) {
  const double radius = (0.25 * span * span + rise * rise) / (2 * rise), k = length / span;
  const double foot = std::asin(0.5 * span / radius);
  constexpr int n = 20000;
  double sum = 0;
  for (int i = 0; i < n; ++i) {
    const double a = foot * (i + 0.5) / n, c = std::cos(a), s = std::sin(a);
    const Vec3 one{s, 0, c}, other = glm::normalize(Vec3{0, s, k * c}), way{radius * c, k * radius * c, -radius * s};
    sum += std::tan(0.5 * std::acos(std::min(1.0, glm::dot(one, other)))) * glm::length(way);
  }
  return 4 * sum * foot / n;
}

}  // namespace

TEST_CASE("groin and cloister vaults as giornate: 1.80 L more and less than their webs") {
  constexpr double t = 0.015;
  CHECK(half_tangents(4, 4, 2) == Approx(8).epsilon(1e-6));
  for (const auto& [span, length, rise] : {std::array{4.0, 4.0, 2.0}, std::array{5.0, 3.0, 1.2}}) {
    for (const auto kind : {ShapeKind::groin, ShapeKind::cloister}) {
      const double sign = kind == ShapeKind::groin ? 1 : -1;
      const auto layout = layouts::whole(vault(kind, span, length, rise), 2e-4);
      const auto measure = layout.measure();
      REQUIRE(measure.giornate.size() == 1);
      const auto& m = measure.giornate[0];
      const double more = coat_volume(m.area_m2, m.bend_m, m.gauss, t) - coat_of_webs(*layout.wall, t);
      CAPTURE(span, rise, sign);
      // The last 5 mm of a groin's feet are left out of the wall: 4 x 5 mm of 8 m.
      CHECK(more == Approx(sign * half_tangents(span, length, rise) * t * t).epsilon(3e-3));
      // At the crown of the profile that is drawn out k times the radius is k^2 R (curvature of an ellipse).
      const double radius = (0.25 * span * span + rise * rise) / (2 * rise), k = length / span;
      CHECK(m.least_concave_radius_m == Approx(radius * std::min(1.0, k * k)).epsilon(5e-3));
      CHECK(measure.residual_m2 == 0);
    }
  }
}
