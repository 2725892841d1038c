#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/base/predicates.h"
#include "engine/giornate/measures.h"

using namespace pontata;

namespace {

Ring ring(const std::vector<ChartPoint>& places) {
  Ring r;
  for (const ChartPoint& p : places) r.push_back(to_lattice(p));
  return r;
}
Ring box(double u0, double v0, double u1, double v1) { return ring({{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}}); }
Ring hole(Ring r) { return {r.rbegin(), r.rend()}; }

bool inside(const std::vector<Ring>& rings, ChartPoint p) {
  int count = 0;
  for (const Ring& r : rings) {
    const int s = point_in_ring(r, to_lattice(p));
    if (s == 0) return false;
    count += s > 0;
  }
  return count % 2 == 1;
}

double distance_to_rim(const std::vector<Ring>& rings, ChartPoint p) {
  double least = 1e9;
  for (const Ring& r : rings)
    for (std::size_t i = 0; i < r.size(); ++i) {
      const Vec2 a = to_vec(to_chart(r[i])), d = to_vec(to_chart(r[(i + 1) % r.size()])) - a;
      const double s = std::clamp(glm::dot(to_vec(p) - a, d) / glm::dot(d, d), 0.0, 1.0);
      least = std::min(least, glm::length(a + s * d - to_vec(p)));
    }
  return least;
}

}  // namespace

TEST_CASE("the label of a square is at its middle") {
  const ChartPoint p = label_place(std::vector<Ring>{box(1, 2, 3, 4)});
  CHECK(p.u == Approx(2).margin(0.02));
  CHECK(p.v == Approx(3).margin(0.02));
}

TEST_CASE("the label of a right triangle is near its incircle's centre") {
  // Legs 3 and 4: inradius 1, centre (1, 1).
  const std::vector<Ring> rings{ring({{0, 0}, {4, 0}, {0, 3}})};
  CHECK(distance_to_rim(rings, label_place(rings)) > 0.96);
}

TEST_CASE("the label keeps out of a hole") {
  const std::vector<Ring> rings{box(0, 0, 2, 2), hole(box(0.2, 0.2, 1.5, 1.8))};
  const ChartPoint p = label_place(rings);
  CHECK(inside(rings, p));
  CHECK(p.u > 1.5);
  CHECK(distance_to_rim(rings, p) > 0.23);  // half of 0.5 m less the refinement
}

TEST_CASE("the label of a bent shape lies inside it though its middle does not") {
  std::vector<ChartPoint> horseshoe;
  for (int k = 0; k <= 40; ++k) horseshoe.push_back({2 + std::cos(0.1 * k), 2 + std::sin(0.1 * k)});
  for (int k = 40; k >= 0; --k) horseshoe.push_back({2 + 0.9 * std::cos(0.1 * k), 2 + 0.9 * std::sin(0.1 * k)});
  const std::vector<Ring> rings{ring(horseshoe)};
  CHECK(inside(rings, label_place(rings)));
}

TEST_CASE("the label of a sliver still lies inside") {
  for (const double width : {1e-3, 1e-5, 1e-6}) {
    INFO(width);
    const std::vector<Ring> level{ring({{0, 0}, {3, 0.5}, {3, 0.5 + width}, {0, width}})};
    const std::vector<Ring> steep{ring({{0, 0}, {width, 0}, {0.5 + width, 3}, {0.5, 3}})};
    CHECK(inside(level, label_place(level)));
    CHECK(inside(steep, label_place(steep)));
  }
}
