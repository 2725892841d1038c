// What must not matter: where the building stands, how large it is drawn, and how the chart is laid.

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/fixtures/clipping.h"
#include "tests/fixtures/random_places.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

std::vector<ShapeMesh> shapes() {
  std::vector<ShapeMesh> out;
  for (const auto& spec : {barrel_spec(4, 3, 1.2), dome_spec(4, 2), apse_spec(3, 1.5)})
    out.push_back(tessellate(spec, {}, 5e-4));
  return out;
}

WallRef charted(SurfaceMesh mesh, const std::vector<Vec2>& address) {
  return chart_wall(std::make_shared<const SurfaceMesh>(std::move(mesh)), address, "test wall", false).value();
}

// A proper rotation about a slanted axis (Rodrigues).
Vec3 turned(const Vec3& p) {
  const Vec3 axis = glm::normalize(Vec3{0.3, -0.5, 0.8});
  const double c = std::cos(1.1), s = std::sin(1.1);
  return c * p + s * glm::cross(axis, p) + (1 - c) * glm::dot(axis, p) * axis;
}

Ring random_ring(const ChartedWall& wall, Random& random) {
  Ring ring;
  while (ring.size() < 6) ring.push_back(any_place(wall, random));
  return ring;
}

// u and v each moved by smooth waves along both: x -> x + sum a sin(k.x + p), slopes far below 1, so one to one.
class Warp {
 public:
  explicit Warp(Random& random) {
    for (auto& w : waves_)
      w = {random.uniform(-1.5, 1.5), random.uniform(-1.5, 1.5), random.uniform(0, 6.28), random.uniform(-0.09, 0.09),
           random.uniform(-0.09, 0.09)};
    turn_ = random.uniform(0, 6.28), scale_ = random.uniform(0.4, 2.5);
  }
  Vec2 operator()(const Vec2& p) const {
    Vec2 q = p;
    for (const auto& w : waves_) q += std::sin(w.ku * p.x + w.kv * p.y + w.phase) * Vec2{w.du, w.dv};
    return scale_ *
           Vec2{std::cos(turn_) * q.x - std::sin(turn_) * q.y, 1.3 * (std::sin(turn_) * q.x + std::cos(turn_) * q.y)};
  }

 private:
  struct Wave {
    double ku, kv, phase, du, dv;
  };
  std::array<Wave, 4> waves_;
  double turn_, scale_;
};

}  // namespace

TEST_CASE("moving a wall rigidly changes no measure") {
  Random random(31);
  for (const auto& shape : shapes()) {
    const auto wall = charted(shape.mesh, shape.address);
    auto moved = shape.mesh;
    for (auto& p : moved.points) p = turned(p) + Vec3{120, -45, 18};
    for (auto& n : moved.normals) n = turned(n);
    const auto other = charted(moved, shape.address);
    CHECK(other->metric->area() == Approx(wall->metric->area()).epsilon(1e-12));
    for (int i = 0; i < 20; ++i) {
      const auto ring = random_ring(*wall, random);
      const auto a = rim(*wall, ring), b = rim(*other, ring);
      REQUIRE(std::abs(a.area_m2 - b.area_m2) < 1e-11);
      REQUIRE(std::abs(a.bend_m - b.bend_m) < 1e-11);
      REQUIRE(std::abs(a.gauss - b.gauss) < 1e-11);
      REQUIRE(a.length_m == Approx(b.length_m).epsilon(1e-11));
    }
  }
}

TEST_CASE("placing a shape changes no measure and carries places along") {
  const Placement3 placement{{3, -2, 1.5}, 37};
  for (const auto& spec : {barrel_spec(4, 3, 1.2), dome_spec(4, 2), apse_spec(3, 1.5), flat_spec(3, 2)}) {
    const auto wall = built(spec, 1e-3), placed = built(spec, 1e-3, placement);
    REQUIRE(wall->chart->places() == placed->chart->places());
    CHECK(placed->metric->area() == Approx(wall->metric->area()).epsilon(1e-13));
    const ChartPoint p{0.5 * wall->chart->box().width, 0.4 * wall->chart->box().height};
    CHECK(glm::length(*placed->position(p) - apply(placement, *wall->position(p))) < 1e-12);
  }
}

TEST_CASE("a wall drawn larger measures larger: areas by the square, bends once, Gauss not at all") {
  Random random(32);
  constexpr double k = 4;  // a power of two keeps the lattice places of the ring exact
  for (const auto& shape : shapes()) {
    const auto wall = charted(shape.mesh, shape.address);
    auto large = shape.mesh;
    auto address = shape.address;
    for (auto& p : large.points) p *= k;
    for (auto& a : address) a *= k;
    const auto other = charted(large, address);
    for (int i = 0; i < 20; ++i) {
      const auto ring = random_ring(*wall, random);
      Ring scaled;
      for (const auto& p : ring) scaled.push_back({4 * p.x, 4 * p.y});
      const auto a = rim(*wall, ring), b = rim(*other, scaled);
      REQUIRE(std::abs(b.area_m2 - k * k * a.area_m2) < 1e-7);  // points are snapped to a finer lattice
      REQUIRE(std::abs(b.bend_m - k * a.bend_m) < 1e-7);
      REQUIRE(std::abs(b.gauss - a.gauss) < 1e-7);
      REQUIRE(b.length_m == Approx(k * a.length_m).epsilon(1e-7));
    }
  }
}

TEST_CASE("laying the chart anew by a smooth random bijection changes no region's measures") {
  Random random(33);
  for (const auto& shape : shapes())
    for (int lay = 0; lay < 4; ++lay) {
      const auto wall = charted(shape.mesh, shape.address);
      const Warp warp(random);
      std::vector<Vec2> address;
      for (const auto& a : shape.address) address.push_back(warp(a));
      const auto other = charted(shape.mesh, address);
      CHECK(other->metric->area() == Approx(wall->metric->area()).epsilon(1e-12));
      for (int i = 0; i < 10; ++i) {
        const auto ring = random_ring(*wall, random);
        Ring same;  // the same curve in space: every crossing with a triangle's edge
        for (std::size_t k = 0; k < ring.size(); ++k) {
          const auto line = wall->metric->trace(ring[k], ring[(k + 1) % ring.size()]);
          for (std::size_t j = 0; j + 1 < line.size(); ++j) same.push_back(to_lattice(other->chart->address(line[j])));
        }
        const auto a = rim(*wall, ring), b = rim(*other, same);
        const double scale = std::max(std::abs(a.area_m2), 0.1);
        REQUIRE(std::abs(a.area_m2 - b.area_m2) < 1e-6 * scale);
        REQUIRE(std::abs(a.bend_m - b.bend_m) < 1e-6 * scale);
        REQUIRE(std::abs(a.gauss - b.gauss) < 1e-6 * scale);
        REQUIRE(a.length_m == Approx(b.length_m).epsilon(1e-6));
        // The chart's own area is another: an address, not a ruler.
        if (i == 0) REQUIRE(std::abs(other->chart->box().width / wall->chart->box().width - 1) > 1e-3);
      }
    }
}
