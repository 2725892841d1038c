#include "engine/flatten/triangulation.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <random>

#include "engine/base/predicates.h"

using namespace pontata;

namespace {

constexpr double kPi = 3.14159265358979323846;

LatticePoint m(double u, double v) { return to_lattice(ChartPoint{u, v}); }

Ring star(double cu, double cv, double r, double depth, int n, bool turned) {
  Ring ring;
  for (int i = 0; i < n; ++i) {
    const double a = 2 * kPi * i / n, s = r * (i % 2 ? 1 : 1 - depth);
    ring.push_back(m(cu + s * std::cos(a), cv + s * std::sin(a)));
  }
  if (turned) std::reverse(ring.begin(), ring.end());
  return ring;
}

struct Built {
  Triangulation triangulation;
  std::vector<std::vector<std::uint32_t>> rims;
  bool fixed = true, closed = false;
};

Built build(const std::vector<Ring>& rings) {
  LatticePoint lo = rings[0][0], hi = lo;
  for (const Ring& r : rings)
    for (const LatticePoint p : r) {
      lo = {std::min(lo.x, p.x), std::min(lo.y, p.y)};
      hi = {std::max(hi.x, p.x), std::max(hi.y, p.y)};
    }
  Built b{Triangulation(lo, hi, {}), {}};
  for (const Ring& r : rings) {
    b.rims.emplace_back();
    for (const LatticePoint p : r) b.rims.back().push_back(b.triangulation.insert(p));
  }
  for (const auto& r : b.rims)
    for (std::size_t i = 0; i < r.size(); ++i) b.fixed &= b.triangulation.fix(r[i], r[(i + 1) % r.size()]);
  b.closed = b.fixed && b.triangulation.find_inside();
  return b;
}

Int128 area_of(const Triangulation& t) {
  Int128 sum = 0;
  for (const Triangle& v : t.region().triangles) {
    const Int128 a = orient(t.place(v[0]), t.place(v[1]), t.place(v[2]));
    CHECK((a > 0));
    sum += a;
  }
  return sum;
}

Int128 area_of(const std::vector<Ring>& rings) {
  Int128 sum = 0;
  for (const Ring& r : rings) sum += twice_area(r);
  return sum;
}

}  // namespace

TEST_CASE("the triangles cover the region inside the rims exactly, holes left out") {
  const std::vector<Ring> rings{star(1, 1, 0.9, 0.5, 60, false), star(1, 1, 0.2, 0.3, 30, true),
                                star(1.2, 1.2, 0.05, 0.0, 12, true)};
  Built b = build(rings);
  REQUIRE(b.closed);
  CHECK((area_of(b.triangulation) == area_of(rings)));
  std::mt19937 random(1);
  std::uniform_real_distribution<double> at(0, 2);
  for (int i = 0; i < 2000; ++i) b.triangulation.insert_inside(m(at(random), at(random)));
  CHECK((area_of(b.triangulation) == area_of(rings)));
  CHECK(b.triangulation.region().triangles.size() > 1000);
}

TEST_CASE("rims a few micrometres wide keep their exact area") {
  // A strip 4 um wide and 1 m long, with points of one side a pitch away from those of the other in u.
  Ring ring;
  for (int i = 0; i <= 200; ++i) ring.push_back(m(i * 0.005, 0));
  for (int i = 200; i >= 0; --i) {
    LatticePoint p = m(i * 0.005, 4e-6);
    p.x += i % 3 - 1;
    ring.push_back(p);
  }
  Built b = build({ring});
  REQUIRE(b.closed);
  CHECK((area_of(b.triangulation) == twice_area(ring)));
}

TEST_CASE("a rim through its own point, and a needle of one pitch") {
  // the second corner of the needle lies exactly on the long edge's line
  Ring ring{m(0, 0), m(1, 0), m(1, 1), {m(0.5, 0).x + 1, m(0.5, 1).y}, m(0.5, 0), {m(0.5, 0).x, m(0.5, 1).y}, m(0, 1)};
  Built b = build({ring});
  REQUIRE(b.closed);
  CHECK((area_of(b.triangulation) == twice_area(ring)));
}

TEST_CASE("rims that cross are found") {
  const std::vector<Ring> rings{{m(0, 0), m(1, 1), m(1, 0), m(0, 1)}};
  CHECK_FALSE(build(rings).closed);
}

TEST_CASE("free edges are Delaunay") {
  std::vector<Ring> rings{star(1, 1, 0.9, 0.2, 80, false)};
  Built b = build(rings);
  REQUIRE(b.closed);
  std::mt19937 random(2);
  std::uniform_real_distribution<double> at(0, 2);
  for (int i = 0; i < 500; ++i) b.triangulation.insert_inside(m(at(random), at(random)));
  b.triangulation.restore_delaunay();
  std::map<std::pair<std::uint32_t, std::uint32_t>, bool> rim;
  for (const auto& r : b.rims)
    for (std::size_t i = 0; i < r.size(); ++i) rim[std::minmax(r[i], r[(i + 1) % r.size()])] = true;
  const auto region = b.triangulation.region();
  const auto at_m = [&](std::uint32_t v) { return to_vec(to_chart(b.triangulation.place(v))); };
  const auto cosine = [&](std::uint32_t apex, std::uint32_t p, std::uint32_t q) {
    return glm::dot(glm::normalize(at_m(p) - at_m(apex)), glm::normalize(at_m(q) - at_m(apex)));
  };
  for (std::uint32_t t = 0; t < region.triangles.size(); ++t)
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t s = region.across[t][k];
      const std::uint32_t a = region.triangles[t][k], e = region.triangles[t][(k + 1) % 3];
      if (s == Triangulation::kNoneAcross) {
        CHECK(rim.count(std::minmax(a, e)) == 1);
        continue;
      }
      if (rim.count(std::minmax(a, e))) continue;
      std::uint32_t d = 0;
      for (std::size_t j = 0; j < 3; ++j)
        if (region.triangles[s][j] != a && region.triangles[s][j] != e) d = region.triangles[s][j];
      // opposite angles of a Delaunay edge sum to at most 180 degrees (Lawson 1977)
      CHECK(std::acos(cosine(region.triangles[t][(k + 2) % 3], a, e)) + std::acos(cosine(d, a, e)) < kPi + 1e-6);
    }
}

TEST_CASE("random wanted edges between random points") {
  for (unsigned seed = 0; seed < 30; ++seed) {
    std::mt19937 random(seed);
    std::uniform_int_distribution<std::int64_t> at(0, 40);  // few lattice places, so that many points are in line
    Triangulation t({0, 0}, {40, 40}, {});
    std::vector<std::uint32_t> v;
    for (int i = 0; i < 120; ++i) v.push_back(t.insert({at(random), at(random)}));
    std::vector<std::pair<LatticePoint, LatticePoint>> made;
    for (int i = 0; i < 40; ++i) {
      const std::uint32_t a = v[static_cast<std::size_t>(at(random))], b = v[static_cast<std::size_t>(at(random)) + 60];
      if (a == b) continue;
      bool crosses = false;
      for (const auto& [p, q] : made) crosses |= segments_cross(p, q, t.place(a), t.place(b));
      INFO(seed << " " << i);
      CHECK(t.fix(a, b) == !crosses);
      if (crosses) break;  // a refused edge may have been made in part
      made.emplace_back(t.place(a), t.place(b));
    }
  }
}
