#include "engine/chart/metric.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/fixtures/clipping.h"
#include "tests/fixtures/random_places.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

std::vector<WallRef> curved_walls() {
  return {barrel_wall(4, 3, 2, 1e-3), barrel_wall(4, 3, 0.7, 1e-3), dome_wall(4, 2, 1e-3),
          dome_wall(5, 1, 1e-3),      apse_wall(3, 1.5, 1e-3),      flat_wall(3, 2)};
}

double rim_length(const Ring& ring) {
  double sum = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const auto p = to_chart(ring[i]), q = to_chart(ring[(i + 1) % ring.size()]);
    sum += std::hypot(q.u - p.u, q.v - p.v);
  }
  return sum;
}

// The rim's sums against clipping: 1e-9 m^2 per metre of perimeter.
void check_rim(const ChartedWall& wall, const Ring& ring) {
  const auto sums = rim(wall, ring);
  const auto clipped = clipped_terms(wall, ring);
  const double limit = 1e-9 * rim_length(ring);
  CAPTURE(ring.size(), clipped.area);
  REQUIRE(std::abs(sums.area_m2 - clipped.area) < limit);
  REQUIRE(std::abs(sums.bend_m - clipped.bend) < limit);
  REQUIRE(std::abs(sums.gauss - clipped.gauss) < limit);
}

}  // namespace

TEST_CASE("a closed rim sums to the area inside, measured again by clipping triangles") {
  Random random(21);
  for (const auto& wall : curved_walls())
    for (int i = 0; i < 25; ++i) {
      Ring ring;  // convex walls: any ring stays inside, even one that crosses itself
      for (std::size_t n = 3 + random.below(8); ring.size() < n;) ring.push_back(any_place(*wall, random));
      check_rim(*wall, ring);
    }
}

TEST_CASE("rims along mesh edges and through mesh points sum to their triangles") {
  Random random(22);
  for (const auto& wall : curved_walls()) {
    const auto& chart = *wall->chart;
    for (int i = 0; i < 200; ++i) {
      const auto t = static_cast<std::uint32_t>(random.below(chart.mesh().triangles.size()));
      const auto& c = chart.mesh().triangles[t];
      const Ring one{chart.places()[c[0]], chart.places()[c[1]], chart.places()[c[2]]};
      const Vec3 terms = wall->metric->triangle_terms(t);
      const auto sums = rim(*wall, one);
      REQUIRE(std::abs(sums.area_m2 - terms.x) < 1e-14);
      REQUIRE(std::abs(sums.bend_m - terms.y) < 1e-14);
      REQUIRE(std::abs(sums.gauss - terms.z) < 1e-14);
      Ring fan;  // the ring of points about an inner point
      if (chart.border_edge_from(c[0]) != Chart::kNoTriangle) continue;
      Vec3 fan_terms{0, 0, 0};
      std::uint32_t at = t;
      do {
        const auto& d = chart.mesh().triangles[at];
        const int k = d[0] == c[0] ? 0 : (d[1] == c[0] ? 1 : 2);
        fan.push_back(chart.places()[d[std::size_t(k + 1) % 3]]);
        fan_terms += wall->metric->triangle_terms(at);
        at = chart.across(at, (k + 2) % 3);
      } while (at != t);
      REQUIRE(std::abs(rim(*wall, fan).area_m2 - fan_terms.x) < 1e-14);
    }
  }
}

TEST_CASE("reversing a stretch negates its sums bit for bit and keeps its length") {
  Random random(23);
  for (const auto& wall : curved_walls())
    for (int i = 0; i < 200; ++i) {
      const auto a = any_place(*wall, random), b = any_place(*wall, random);
      const auto there = wall->metric->measure(a, b), back = wall->metric->measure(b, a);
      REQUIRE(there.area_m2 == -back.area_m2);
      REQUIRE(there.bend_m == -back.bend_m);
      REQUIRE(there.gauss == -back.gauss);
      REQUIRE(there.length_m == back.length_m);
    }
  const auto wall = flat_wall(2, 1);
  const auto nothing = wall->metric->measure({5, 5}, {5, 5});
  CHECK(nothing.area_m2 == 0);
  CHECK(nothing.length_m == 0);
}

TEST_CASE("the border's own ring sums to the whole wall, also when its edges are divided and rounded") {
  for (const auto& wall : curved_walls()) {
    const auto ring = wall->chart->border_rings()[0];
    CHECK(std::abs(rim(*wall, ring).area_m2 - wall->metric->area()) < 1e-9 * rim_length(ring));
    Ring divided;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const auto p = ring[i], q = ring[(i + 1) % ring.size()];
      for (const double s : {0.0, 0.3, 0.77})
        divided.push_back(to_lattice({(p.x + s * double(q.x - p.x)) * kPitch, (p.y + s * double(q.y - p.y)) * kPitch}));
    }
    const auto sums = rim(*wall, divided);
    CHECK(std::abs(sums.area_m2 - wall->metric->area()) < 1e-9 * rim_length(ring));
    CHECK(sums.length_m == Approx(rim(*wall, ring).length_m).epsilon(1e-7));
    Ring coarse;  // chords between far border points leave the rest of the wall
    for (std::size_t i = 0; i < ring.size(); i += 7) coarse.push_back(ring[i]);
    check_rim(*wall, coarse);
  }
}

TEST_CASE("two sides of a cut from border to border share the wall exactly") {
  Random random(24);
  for (const auto& wall : curved_walls()) {
    const auto ring = wall->chart->border_rings()[0];
    for (int i = 0; i < 20; ++i) {
      std::size_t from = random.below(ring.size()), to = random.below(ring.size());
      if (from == to) continue;
      if (from > to) std::swap(from, to);
      const auto middle = any_place(*wall, random);
      Ring one(ring.begin() + std::ptrdiff_t(from), ring.begin() + std::ptrdiff_t(to) + 1),
          other(ring.begin() + std::ptrdiff_t(to), ring.end());
      other.insert(other.end(), ring.begin(), ring.begin() + std::ptrdiff_t(from) + 1);
      one.push_back(middle), other.push_back(middle);
      REQUIRE(std::abs(rim(*wall, one).area_m2 + rim(*wall, other).area_m2 - wall->metric->area()) < 1e-12);
      check_rim(*wall, one);
    }
  }
}

TEST_CASE("ends a few pitches outside the wall count as the border there") {
  Random random(25);
  for (const auto& wall : curved_walls()) {
    const auto ring = wall->chart->border_rings()[0];
    for (int i = 0; i < 40; ++i) {
      Ring rough;
      for (std::size_t k = random.below(10); k < ring.size(); k += 1 + random.below(10)) {
        auto p = ring[k];
        p.x += static_cast<std::int64_t>(random.below(9)) - 4, p.y += static_cast<std::int64_t>(random.below(9)) - 4;
        rough.push_back(p);
      }
      rough.push_back(any_place(*wall, random));
      check_rim(*wall, rough);
    }
  }
}

TEST_CASE("the traced line starts and ends at the ends and runs straight in the chart") {
  Random random(26);
  for (const auto& wall : curved_walls())
    for (int i = 0; i < 50; ++i) {
      const auto a = any_place(*wall, random), b = any_place(*wall, random);
      if (a == b) continue;
      const auto line = wall->metric->trace(a, b);
      REQUIRE(line.size() >= 2);
      const auto from = to_chart(a), to = to_chart(b);
      const auto first = wall->chart->address(line.front()), last = wall->chart->address(line.back());
      REQUIRE(std::hypot(first.u - from.u, first.v - from.v) < 1e-12);
      REQUIRE(std::hypot(last.u - to.u, last.v - to.v) < 1e-12);
      double before = -1e-12, length = 0;
      const double span = std::hypot(to.u - from.u, to.v - from.v);
      for (std::size_t k = 0; k < line.size(); ++k) {
        const auto p = wall->chart->address(line[k]);
        const Vec2 off{p.u - from.u, p.v - from.v}, way{(to.u - from.u) / span, (to.v - from.v) / span};
        REQUIRE(std::abs(cross2(way, off)) < 1e-11);
        REQUIRE(glm::dot(way, off) > before - 1e-11);
        before = glm::dot(way, off);
        if (k > 0) length += glm::length(position(wall->mesh(), line[k]) - position(wall->mesh(), line[k - 1]));
      }
      REQUIRE(length == Approx(wall->metric->measure(a, b).length_m).epsilon(1e-12));
    }
}

TEST_CASE("lengths are those of the surface: a line up a barrel is its arc") {
  const auto wall = barrel_wall(4, 6, 2);
  const auto at = [](double u, double v) { return to_lattice({u, v}); };
  const double arc = wall->chart->box().height;
  CHECK(wall->metric->measure(at(1, 0), at(1, arc)).length_m == Approx(2 * std::acos(-1)).epsilon(2e-5));
  CHECK(wall->metric->measure(at(0, 1), at(6, 1)).length_m == Approx(6));
  const auto form = wall->metric->first_form(*wall->chart->triangle_at(at(3, 3)));
  CHECK(form.E == Approx(1));
  CHECK(form.F == Approx(0).margin(1e-9));
  CHECK(form.G == Approx(1).epsilon(1e-4));
}

TEST_CASE("a fair scan's area ignores noise that the raw area counts") {
  // A rough flat sheet: heights to and fro by 3 mm over 10 mm cells, normals those of the plane.
  SurfaceMesh mesh;
  std::vector<Vec2> address;
  constexpr std::uint32_t n = 100;
  Random random(27);
  mesh.normals = {{0, -1, 0}};
  for (std::uint32_t j = 0; j <= n; ++j)
    for (std::uint32_t i = 0; i <= n; ++i) {
      const bool rim = i == 0 || j == 0 || i == n || j == n;
      mesh.points.push_back({0.01 * i, rim ? 0 : random.uniform(-0.003, 0.003), 0.01 * j});
      address.push_back({0.01 * i, 0.01 * j});
    }
  for (std::uint32_t c = 0; c < n * n; ++c) {
    const std::uint32_t a = c / n * (n + 1) + c % n, d = a + n + 1;
    mesh.triangles.push_back({a, a + 1, d + 1});
    mesh.triangles.push_back({a, d + 1, d});
  }
  mesh.corner_normals.assign(mesh.triangles.size(), {0, 0, 0});
  const auto shared = std::make_shared<const SurfaceMesh>(mesh);
  const auto fair = chart_wall(shared, address, "rough", true).value();
  const auto raw = chart_wall(shared, address, "rough", false).value();
  CHECK(fair->metric->area() == Approx(1).epsilon(5e-5));
  CHECK(fair->metric->raw_area() > 1.02);
  CHECK(raw->metric->area() == Approx(fair->metric->raw_area()).epsilon(1e-12));
  const auto a = to_lattice({0.1, 0.1}), b = to_lattice({0.9, 0.7});
  CHECK(fair->metric->measure(a, b).length_m == Approx(1).epsilon(1e-4));
  CHECK(raw->metric->measure(a, b).length_m > 1.01);
}
