#include "engine/giornate/face_locator.h"

#include <catch2/catch.hpp>
#include <random>

#include "tests/fixtures/layouts.h"

using namespace pontata;
using namespace pontata::layouts;

TEST_CASE("the locator finds the same face as the network, at random places and at the heights of its corners") {
  Layout l = on(dome(5, 2.5), 0.01);
  const ChartBox b = l.wall->chart->box();
  const ChartPoint middle{0.5 * b.width, 0.5 * b.height};
  add(l, blob(middle, 0.5, 0.2, 31));
  add(l, blob(middle, 1.0, 0.2, 57));
  add(l, blob({middle.u + 1.2, middle.v}, 0.8, 0.2, 43));
  add_box(l, middle.u - 2, middle.v - 1, middle.u - 1, middle.v + 1);
  const FaceLocator locator(l.network);
  std::mt19937 random(3);
  std::uniform_real_distribution<double> share(-0.05, 1.05);
  std::vector<LatticePoint> corners;
  for (std::uint32_t h = 0; h < l.network.half_edge_slots(); ++h)
    if (l.network.alive(HalfEdgeId{h})) corners.push_back(l.network.origin(HalfEdgeId{h}));
  int inside = 0;
  for (int k = 0; k < 4000; ++k) {
    LatticePoint p = to_lattice({share(random) * b.width, share(random) * b.height});
    if (k % 2 == 0) p.y = corners[random() % corners.size()].y;  // level with a corner: several seams meet there
    const auto expected = l.network.face_at(p);
    if (!expected && l.wall->chart->triangle_at(p)) continue;  // on a seam
    REQUIRE(locator.face_at(p) == expected.value_or(Network::kOutside));
    inside += expected.has_value();
  }
  CHECK(inside > 2000);
}

TEST_CASE("on a seam the locator answers for the place just above it, to the right of a plumb one") {
  Layout l = on(flat(4, 4));
  add_box(l, 1, 1, 2, 2);
  add_box(l, 2, 1, 3, 2);
  add_box(l, 1, 2, 3, 3);
  const FaceLocator locator(l.network);
  const auto owner = [&](double u, double v) {
    return l.network.face(locator.face_at(to_lattice({u, v}))).owner.value;
  };
  CHECK(owner(2, 1.5) == 2);
  CHECK(owner(1.5, 2) == 3);
  CHECK(owner(2, 2) == 3);
  CHECK(owner(1, 1) == 1);
  CHECK(owner(2, 1) == 2);
  CHECK(owner(3, 1.5) == 0);
  CHECK(locator.face_at(to_lattice({4, 4})) == Network::kOutside);
}
