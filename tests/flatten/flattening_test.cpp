#include "engine/flatten/flattening.h"

#include <catch2/catch.hpp>
#include <random>

#include "hand_patches.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// A quarter of a half cylinder of radius r; u along the axis, v over the arc. Side lengths are the arcs' own.
Patch cylinder_patch(double r, double length, double arc, int n, int m) {
  Patch p = grid_patch(length, arc, n, m, [&](double u, double v) {
    return Vec3{u, r * std::cos(v / r), r * std::sin(v / r)};
  });
  for (const Triangle& t : p.triangles) {
    p.sides.emplace_back();
    for (std::size_t k = 0; k < 3; ++k)
      p.sides.back()[k] =
          std::hypot(p.places[t[k]].u - p.places[t[(k + 1) % 3]].u, p.places[t[k]].v - p.places[t[(k + 1) % 3]].v);
  }
  return p;
}

}  // namespace

TEST_CASE("a cylinder is laid flat without strain, from the chart and without one") {
  Patch patch = cylinder_patch(2, 1.5, 1.2, 30, 24);
  for (const bool with_chart : {true, false}) {
    INFO(with_chart);
    if (!with_chart) patch.places.clear();
    const auto flat = flatten(patch);
    REQUIRE(flat);
    CHECK_FALSE(flat->folded);
    CHECK(flat->max_strain < 1e-6);
    CHECK(flat->area_strain < 1e-6);
    CHECK_FALSE(flat->least_strain);
  }
}

TEST_CASE("cylinders and cones of flat facets along their rulings are laid flat without strain") {
  // Two rulings of a cylinder or cone lie in one plane, so such facets make a polyhedron that unfolds.
  const Patch cylinder = grid_patch(1.5, 1.2, 30, 24, [](double u, double v) {
    return Vec3{u, 2 * std::cos(v / 2), 2 * std::sin(v / 2)};
  });
  const Patch cone = grid_patch(1.2, 1.5, 24, 30, [](double u, double v) {
    const double r = 2 - 0.4 * v;
    return Vec3{-r * std::sin(u / 2), r * std::cos(u / 2), v};
  });
  for (const Patch& p : {cylinder, cone}) {
    const auto flat = flatten(p);
    REQUIRE(flat);
    CHECK(flat->max_strain < 1e-6);
    CHECK(flat->worst_pair_mm < 1e-3);
  }
}

TEST_CASE("across its rulings a cylinder or cone costs at most twice the chord error over the radius") {
  // Points strewn irregularly, so that triangles lie across the rulings every way.
  std::mt19937 dice(5);
  std::uniform_real_distribution<double> off(-0.015, 0.015);
  for (const double taper : {0.0, 0.3}) {
    const Patch p = grid_patch(1.2, 1.2, 24, 24, [&](double u, double v) {
      const double along = u + off(dice), r = 2 - taper * along, around = (v + off(dice)) / 2;
      return Vec3{along, r * std::cos(around), r * std::sin(around)};
    });
    double edge = 0;
    for (const Triangle& t : p.triangles)
      for (std::size_t k = 0; k < 3; ++k)
        edge = std::max(edge, glm::distance(p.points[t[k]], p.points[t[(k + 1) % 3]]));
    const auto flat = flatten(p);
    REQUIRE(flat);
    const double radius = 2 - taper * 1.2, chord_error = edge * edge / (8 * radius);
    INFO(taper << ": " << flat->max_strain << " of " << 2 * chord_error / radius);
    CHECK(flat->max_strain < 2 * chord_error / radius);
    CHECK(flat->max_strain > 1e-6);
  }
}

TEST_CASE("up on the wall is up on the paper") {
  const auto flat = flatten(cylinder_patch(2, 1.5, 1.2, 30, 24));  // height grows with v
  REQUIRE(flat);
  CHECK(flat->up_by_height);
  CHECK(flat->flat[31 * 24].y > flat->flat[0].y + 1.19);
  CHECK(flat->flat[30].x > flat->flat[0].x + 1.49);
}

TEST_CASE("a sphere's disc comes near Milnor's bound") {
  // Milnor, "A problem in cartography", Amer. Math. Monthly 76 (1969), from memory: scales differ by alpha / sin alpha
  // at least. R 3 m, 1 m2: +-0.30 %; 2 m2: +-0.59 %; R 8 m, 1 m2: +-0.04 % (computed from 2 pi R^2 (1 - cos alpha)).
  for (const auto& [radius, area, bound] : {std::tuple{3.0, 1.0, 0.0030}, {3.0, 2.0, 0.0059}, {8.0, 1.0, 0.0004}}) {
    const double alpha = std::acos(1 - area / (2 * kPi * radius * radius));
    CHECK(least_strain_of_disc(alpha) == Approx(bound).margin(0.00005));
    const auto flat = flatten(disc_patch(radius, alpha, 30));
    REQUIRE(flat);
    REQUIRE(flat->least_strain);
    CHECK(*flat->least_strain == Approx(least_strain_of_disc(alpha)).epsilon(0.02));
    CHECK(*flat->least_strain <= least_strain_of_disc(alpha));
    CHECK(flat->max_strain >= 0.98 * *flat->least_strain);  // chords, not arcs: the bound holds to their accuracy
    CHECK(flat->max_strain < 1.05 * *flat->least_strain);
  }
}

TEST_CASE("a saddle is laid flat without folds") {
  const auto flat = flatten(grid_patch(1, 1, 30, 30, [](double u, double v) {
    return Vec3{u, 0.6 * (u - 0.5) * (v - 0.5) * 2, v};
  }));
  REQUIRE(flat);
  CHECK_FALSE(flat->folded);
  CHECK(flat->max_strain < 0.05);
}

TEST_CASE("a spiral that overlaps itself when laid flat is called folded") {
  // A helicoid strip of 1.3 turns about its axis: laid flat its ends overlap when it is a narrow ring on a flat cone of
  // more than a full turn.
  const double turn = 2 * kPi * 1.2;
  const auto flat = flatten(grid_patch(turn, 0.3, 200, 6, [&](double u, double v) {
    const double r = 1 + v + 0.02 * u;
    return Vec3{r * std::cos(u), r * std::sin(u), 0.002 * u};
  }));
  REQUIRE(flat);
  INFO(flat->max_strain);
  CHECK(flat->folded);
}

TEST_CASE("lips of a slit may lie on each other, not over each other") {
  const auto flat_wall = [](double u, double v) { return Vec3{u, 0, v}; };
  const auto cylinder = [](double u, double v) { return Vec3{2 * std::sin(u / 2), 2 * std::cos(u / 2), v}; };
  const auto ball = [](double u, double v) { return Vec3{u, -(u - 0.5) * (u - 0.5) - v * v, v}; };
  const auto saddle = [](double u, double v) { return Vec3{u, (u - 0.5) * (u - 0.5) - v * v, v}; };
  CHECK_FALSE(flatten(slit_grid_patch(1, 1, 20, 20, 12, flat_wall))->folded);
  CHECK_FALSE(flatten(slit_grid_patch(1, 1, 20, 20, 12, cylinder))->folded);
  CHECK_FALSE(flatten(slit_grid_patch(1, 1, 20, 20, 12, ball))->folded);  // it gapes
  CHECK(flatten(slit_grid_patch(1, 1, 20, 20, 12, saddle))->folded);      // it would have to be spread
}

TEST_CASE("a rigid fit finds the motion and what is left") {
  std::vector<Vec2> a{{0, 0}, {1, 0}, {1, 2}, {0.3, 0.7}}, b;
  for (const Vec2& p : a)
    b.emplace_back(std::cos(0.4) * p.x - std::sin(0.4) * p.y + 3, std::sin(0.4) * p.x + std::cos(0.4) * p.y - 1);
  auto fit = fit_rigid(a, b);
  CHECK(fit.angle == Approx(0.4));
  CHECK(fit.shift.x == Approx(3));
  CHECK(fit.worst < 1e-12);
  b[2].x += 0.01;
  fit = fit_rigid(a, b);
  CHECK(fit.worst > 0.002);
  CHECK(fit.worst < 0.01);
}

TEST_CASE("20,000 triangles are laid flat as near to the bound as a few are") {
  const Patch patch = disc_patch(3, 0.3, 58);
  REQUIRE(patch.triangles.size() > 20000);
  const auto flat = flatten(patch);
  REQUIRE(flat);
  CHECK(flat->max_strain >= 0.98 * *flat->least_strain);
  CHECK(flat->max_strain < 1.05 * *flat->least_strain);
}
