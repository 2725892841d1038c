#include <catch2/catch.hpp>
#include <numbers>

#include "engine/giornate/measures.h"

using namespace pontata;

namespace {

WallRef wall_of(const ShapeSpec& spec, double tolerance = 0.002) {
  auto wall = build_wall(spec, {}, "wall", tolerance);
  if (!wall) FAIL(wall.problem().message());
  return *wall;
}

const std::vector<ShapeSpec>& shapes() {
  static const std::vector<ShapeSpec> list{{.kind = ShapeKind::flat, .width = 5, .height = 3},
                                           {.kind = ShapeKind::barrel, .span = 4, .length = 5, .rise = 2},
                                           {.kind = ShapeKind::barrel, .span = 4, .length = 5, .rise = 0.8},
                                           {.kind = ShapeKind::dome, .span = 5, .rise = 2.5},
                                           {.kind = ShapeKind::apse, .height = 1.5, .span = 4}};
  return list;
}

// A wavy closed line about the middle of the wall's chart.
Ring wavy(const ChartedWall& wall, double size, int corners) {
  const ChartBox box = wall.chart->box();
  Ring ring;
  for (int k = 0; k < corners; ++k) {
    const double a = 2 * std::numbers::pi * k / corners;
    const double r = size * std::min(box.width, box.height) * (1 + 0.3 * std::sin(7 * a));
    ring.push_back(to_lattice({0.5 * box.width + r * std::cos(a), 0.5 * box.height + r * std::sin(a)}));
  }
  return ring;
}

EdgeMeasure rim_sums(const ChartedWall& wall, const Ring& ring) {
  EdgeMeasure sum;
  for (std::size_t i = 0; i < ring.size(); ++i) sum += wall.metric->measure(ring[i], ring[(i + 1) % ring.size()]);
  return sum;
}

}  // namespace

TEST_CASE("clipped triangles and sums along the rim agree to 1e-9 m2 per metre") {
  for (const ShapeSpec& spec : shapes()) {
    const WallRef wall = wall_of(spec);
    for (const int corners : {3, 17, 400}) {
      INFO(shape_name(spec.kind) << " " << corners);
      const Ring ring = wavy(*wall, 0.28, corners);
      const EdgeMeasure rim = rim_sums(*wall, ring);
      const Vec3 terms = terms_by_clipping(*wall, std::vector<Ring>{ring});
      INFO("differ by " << terms.x - rim.area_m2 << " of " << terms.x);
      CHECK(std::abs(terms.x - rim.area_m2) <= 1e-9 * rim.length_m);
      CHECK(std::abs(terms.y - rim.bend_m) <= 1e-9 * rim.length_m);
      CHECK(std::abs(terms.z - rim.gauss) <= 1e-9 * rim.length_m);
    }
  }
}

TEST_CASE("the wall's own border holds the whole wall") {
  for (const ShapeSpec& spec : shapes()) {
    INFO(shape_name(spec.kind));
    const WallRef wall = wall_of(spec);
    const auto rings = wall->chart->border_rings();
    CHECK(area_by_clipping(*wall, rings) == Approx(wall->metric->area()).epsilon(1e-13));
    const std::vector<Ring> backwards{Ring(rings.front().rbegin(), rings.front().rend())};
    CHECK(area_by_clipping(*wall, backwards) == Approx(-wall->metric->area()).epsilon(1e-13));
  }
}

TEST_CASE("a hole is left out") {
  const WallRef wall = wall_of(shapes()[3]);
  const Ring outer = wavy(*wall, 0.3, 60), inner = wavy(*wall, 0.1, 25);
  const std::vector<Ring> holed{outer, Ring(inner.rbegin(), inner.rend())};
  CHECK(area_by_clipping(*wall, holed) ==
        Approx(area_by_clipping(*wall, std::vector<Ring>{outer}) - area_by_clipping(*wall, std::vector<Ring>{inner})));
}

TEST_CASE("a ring inside one triangle is measured by that triangle, and nothing by none") {
  const WallRef wall = wall_of({.kind = ShapeKind::flat, .width = 4, .height = 4});
  const Ring small{to_lattice({1.5, 0.25}), to_lattice({1.75, 0.25}), to_lattice({1.75, 0.5}), to_lattice({1.5, 0.5})};
  CHECK(area_by_clipping(*wall, std::vector<Ring>{small}) == Approx(0.0625).epsilon(1e-15));
  CHECK(area_by_clipping(*wall, {}) == 0);
}

TEST_CASE("rings along the triangles' own edges and through their corners are no special case") {
  const WallRef wall = wall_of(shapes()[1], 0.01);
  const auto& mesh = wall->mesh();
  const auto& places = wall->chart->places();
  double least = 1, sum = 0;
  for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto& c = mesh.triangles[t];
    const double area = area_by_clipping(*wall, std::vector<Ring>{{places[c[0]], places[c[1]], places[c[2]]}});
    const double share = area / wall->metric->triangle_terms(t).x;
    least = std::min(least, 1 - std::abs(share - 1));
    sum += area;
  }
  CHECK(least == Approx(1).epsilon(1e-13));
  CHECK(sum == Approx(wall->metric->area()).epsilon(1e-13));
}
