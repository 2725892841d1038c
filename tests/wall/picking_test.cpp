#include "engine/wall/picking.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

TEST_CASE("a ray finds the same hit as trying every triangle, from both sides") {
  const auto wall = dome_wall(2, 0.6, 2e-3);
  const auto& mesh = wall->mesh();
  std::mt19937_64 rng(3);
  std::uniform_real_distribution<double> uniform(-1.5, 1.5);
  int hits = 0;
  for (int i = 0; i < 3000; ++i) {
    const Vec3 from{uniform(rng), uniform(rng), uniform(rng)}, to{uniform(rng), uniform(rng), uniform(rng)};
    const Vec3 d = glm::normalize(to - from);
    double best = INFINITY;
    for (const auto& t : mesh.triangles) {  // by Cramer's rule
      const Vec3 e1 = mesh.points[t[1]] - mesh.points[t[0]], e2 = mesh.points[t[2]] - mesh.points[t[0]];
      const Vec3 n = glm::cross(e1, e2), s = from - mesh.points[t[0]];
      const double det = -glm::dot(d, n);
      const double b = glm::dot(glm::cross(s, d), -e2) / -det, c = glm::dot(glm::cross(s, d), e1) / -det;
      const double distance = glm::dot(s, n) / det;
      if (b >= 0 && c >= 0 && b + c <= 1 && distance >= 0) best = std::min(best, distance);
    }
    const auto hit = wall->pick.cast(from, to - from);
    REQUIRE(hit.has_value() == std::isfinite(best));
    if (!hit) continue;
    ++hits;
    REQUIRE(hit->distance == Approx(best).margin(1e-10));
    REQUIRE(glm::length(position(mesh, hit->point) - (from + hit->distance * d)) < 1e-10);
  }
  CHECK(hits > 300);
  CHECK_FALSE(wall->pick.cast({0, 0, 0}, {0, 0, 1}, 0.5));
  CHECK(wall->pick.cast({0, 0, 0}, {0, 0, 1}, 0.7));
  CHECK_FALSE(wall->pick.cast({0, 0, 0}, {0, 0, 0}));
}

TEST_CASE("no ray slips between triangles, even through their points and edges") {
  const auto wall = dome_wall(2, 1, 1e-3);
  const auto& mesh = wall->mesh();
  for (std::size_t i = 0; i < mesh.points.size(); ++i) {
    if (wall->chart->border_edge_from(static_cast<std::uint32_t>(i)) != Chart::kNoTriangle) continue;
    REQUIRE(wall->pick.cast({0.1, 0.05, 0.01}, mesh.points[i] - Vec3{0.1, 0.05, 0.01}));
  }
  for (const auto& t : mesh.triangles) {
    const Vec3 middle = 0.5 * (mesh.points[t[0]] + mesh.points[t[1]]);
    if (middle.z > 0.01) REQUIRE(wall->pick.cast({0.1, 0.05, 0.01}, middle - Vec3{0.1, 0.05, 0.01}));
  }
}

TEST_CASE("the nearest point is no farther than any sampled point and lies where it says") {
  const auto wall = apse_wall(2, 1, 2e-3);
  const auto& mesh = wall->mesh();
  std::mt19937_64 rng(5);
  std::uniform_real_distribution<double> uniform(-2, 3);
  for (int i = 0; i < 1000; ++i) {
    const Vec3 p{uniform(rng), uniform(rng), uniform(rng)};
    const auto hit = wall->pick.nearest(p);
    REQUIRE(glm::length(position(mesh, hit.point) - p) == Approx(hit.distance).margin(1e-12));
    for (const auto& t : mesh.triangles)
      for (const auto& q : {mesh.points[t[0]], (mesh.points[t[0]] + mesh.points[t[1]] + mesh.points[t[2]]) / 3.0})
        REQUIRE(glm::length(q - p) >= hit.distance - 1e-12);
  }
}

TEST_CASE("place to address and back") {
  const auto wall = apse_wall(4, 3);
  std::mt19937_64 rng(6);
  std::uniform_real_distribution<double> uniform(0, 1);
  for (int i = 0; i < 2000; ++i) {
    const ChartPoint p{uniform(rng) * wall->chart->box().width, uniform(rng) * wall->chart->box().height};
    const auto place = wall->position(p);
    if (!place) continue;
    const auto address = wall->address(*place);
    REQUIRE(std::hypot(address.place.u - p.u, address.place.v - p.v) < 1e-9);
    REQUIRE(address.distance < 1e-12);
  }
}
