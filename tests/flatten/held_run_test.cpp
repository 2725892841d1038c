// Runs of rim held to their development come out congruent to it, whatever the surface is like.
#include <catch2/catch.hpp>
#include <map>

#include "hand_patches.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

double angle_at(const Patch& p, std::uint32_t v, const Triangle& t) {
  for (std::size_t k = 0; k < 3; ++k)
    if (t[k] == v) {
      const Vec3 a = glm::normalize(p.points[t[(k + 1) % 3]] - p.points[v]);
      const Vec3 b = glm::normalize(p.points[t[(k + 2) % 3]] - p.points[v]);
      return std::acos(std::clamp(glm::dot(a, b), -1.0, 1.0));
    }
  return 0;
}

// The plane line that has a run's lengths and turns: at each point it turns left by pi less the angles of the triangles
// there (the rim's geodesic curvature).
HeldRun develop(const Patch& p, std::uint32_t first, std::size_t edges) {
  const auto& rim = p.rims[0];
  HeldRun run{0, first, {{0, 0}}};
  double heading = 0.7;
  for (std::size_t i = 0; i < edges; ++i) {
    const std::uint32_t a = rim[(first + i) % rim.size()], b = rim[(first + i + 1) % rim.size()];
    if (i > 0) {
      heading += kPi;
      for (const Triangle& t : p.triangles) heading -= angle_at(p, a, t);
    }
    const double length = glm::distance(p.points[a], p.points[b]);
    run.shape.push_back(run.shape.back() + length * Vec2{std::cos(heading), std::sin(heading)});
  }
  return run;
}

// The four sides of a grid of n x m.
std::vector<HeldRun> sides_of(const Patch& p, int n, int m) {
  std::vector<HeldRun> out;
  std::uint32_t first = 0;
  for (const int edges : {n, m, n, m}) {
    out.push_back(develop(p, first, static_cast<std::size_t>(edges)));
    first += static_cast<std::uint32_t>(edges);
  }
  return out;
}

double length_of(std::span<const Vec2> line) {
  double sum = 0;
  for (std::size_t i = 1; i < line.size(); ++i) sum += glm::distance(line[i - 1], line[i]);
  return sum;
}

void check_held(const Patch& p, const std::vector<HeldRun>& held, const Flattening& flat) {
  CHECK_FALSE(flat.folded);
  CHECK(flat.hold_error_m < 5e-5);
  for (const HeldRun& run : held) {
    std::vector<Vec2> line;
    for (std::size_t i = 0; i < run.shape.size(); ++i)
      line.push_back(flat.flat[p.rims[0][(run.first + i) % p.rims[0].size()]]);
    CHECK(fit_rigid(run.shape, line).worst < 5e-5);
    CHECK(std::abs(length_of(line) - length_of(run.shape)) < 2e-5);
  }
}

// Part of a sphere between two circles of latitude and two meridians.
Patch dome_panel(double radius, double width, double height, int n, int m) {
  return grid_patch(width, height, n, m, [&](double u, double v) {
    const double colatitude = kPi / 2 - 0.5 - v / radius, longitude = u / radius;
    return radius * Vec3{std::sin(colatitude) * std::cos(longitude), -std::sin(colatitude) * std::sin(longitude),
                         std::cos(colatitude)};
  });
}

// A spherical disc slit from its rim along one radius to ring `tip`: the rim runs in and out of the slit.
Patch slit_disc(double radius, double alpha, int rings, int tip) {
  Patch p = disc_patch(radius, alpha, rings);
  const auto on_ray = [](int k) { return static_cast<std::uint32_t>(1 + 3 * k * (k - 1)); };  // first point of ring k
  std::map<std::uint32_t, std::uint32_t> twin;
  for (int k = tip + 1; k <= rings; ++k) {
    twin[on_ray(k)] = static_cast<std::uint32_t>(p.points.size());
    p.points.push_back(p.points[on_ray(k)]), p.places.push_back(p.places[on_ray(k)]);
  }
  for (Triangle& t : p.triangles) {
    const double v = p.places[t[0]].v + p.places[t[1]].v + p.places[t[2]].v;
    for (std::uint32_t& c : t)
      if (v < 0 && twin.contains(c) && p.places[c].u > 0) c = twin[c];
  }
  auto& rim = p.rims[0];
  for (int k = rings; k > tip; --k) rim.push_back(twin[on_ray(k)]);
  for (int k = tip; k < rings; ++k) rim.push_back(on_ray(k));
  p.corners[0].clear();
  return p;
}

}  // namespace

TEST_CASE("a dome panel's four sides come out as developed") {
  const Patch p = dome_panel(3, 1.4, 1.2, 35, 30);
  const auto held = sides_of(p, 35, 30);
  // the lowest side lies on the circle of latitude 0.5: geodesic curvature tan(0.5) / R (Liouville's formula, from
  // memory); its development is an arc of that curvature
  double turn = 0;
  for (std::size_t i = 2; i < held[0].shape.size(); ++i) {
    const Vec2 a = held[0].shape[i - 1] - held[0].shape[i - 2], b = held[0].shape[i] - held[0].shape[i - 1];
    turn += std::atan2(cross2(a, b), glm::dot(a, b));
  }
  // (of the triangles it takes the curvature of half a row more)
  const double half_row = 34.0 / 35 * 1.4 * std::cos(0.5) * (0.5 * 1.2 / 30) / 9;
  CHECK(std::abs(turn) == Approx(34.0 / 35 * 1.4 * std::cos(0.5) * std::tan(0.5) / 3 + half_row).epsilon(0.001));
  const auto flat = flatten(p, {.held = held});
  REQUIRE(flat);
  check_held(p, held, *flat);
  const auto free = flatten(p);
  CHECK(flat->max_strain > free->max_strain);
  CHECK(flat->max_strain < 0.025);
}

TEST_CASE("a cylinder's sides cost nothing to hold") {
  const Patch p = grid_patch(1.5, 1.2, 30, 24, [](double u, double v) {
    return Vec3{u, 2 * std::cos(v / 2), 2 * std::sin(v / 2)};
  });
  const auto held = sides_of(p, 30, 24);
  const auto flat = flatten(p, {.held = held});
  REQUIRE(flat);
  check_held(p, held, *flat);
  CHECK(flat->max_strain < 1e-6);
}

TEST_CASE("a saddle's sides are held") {
  const Patch p = grid_patch(1, 1, 30, 30, [](double u, double v) {
    return Vec3{u, 0.6 * (u - 0.5) * (v - 0.5) * 2, v};
  });
  const auto held = sides_of(p, 30, 30);
  const auto flat = flatten(p, {.held = held});
  REQUIRE(flat);
  check_held(p, held, *flat);
  CHECK(flat->max_strain < 0.2);
}

TEST_CASE("a slit disc opens until its whole rim is as on the wall") {
  const double radius = 3, alpha = 0.27;
  const int rings = 22;
  const Patch p = slit_disc(radius, alpha, rings, 5);
  const std::vector<HeldRun> held{develop(p, 0, 6 * rings)};
  const auto flat = flatten(p, {.held = held});
  REQUIRE(flat);
  check_held(p, held, *flat);
  // Gauss and Bonnet: the rim turns by 2 pi cos(alpha) only, so the slit's mouth opens by the rest on the developed
  // circle, of radius R tan(alpha); the triangles of the outer ring have half their curvature at the rim
  const double gap = glm::distance(flat->flat[p.rims[0][0]], flat->flat[p.rims[0][6 * rings]]);
  CHECK(
      gap ==
      Approx(2 * radius * std::tan(alpha) * std::sin(kPi * (1 - std::cos(alpha * (1 - 0.5 / rings))))).epsilon(0.005));
  CHECK(flat->max_strain < 0.045);
}

TEST_CASE("a rim is held from a map that is far from it") {
  // a bowl slit almost to its middle opens by a sixth of a turn
  const Patch p = slit_disc(1, 0.6, 20, 1);
  const std::vector<HeldRun> held{develop(p, 0, 120)};
  const auto flat = flatten(p, {.held = held});
  REQUIRE(flat);
  check_held(p, held, *flat);
  CHECK(flat->max_strain < 0.2);
}
