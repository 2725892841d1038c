#include "engine/chart/chart.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "engine/base/predicates.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// A flat sheet of n x m cells in the plane y = 0 with its places as addresses; cells may be left out.
struct Sheet {
  SurfaceMesh mesh;
  std::vector<Vec2> address;
  Result<Chart> certified() const { return Chart::certify(std::make_shared<SurfaceMesh>(mesh), address, "sheet"); }
};

Sheet sheet(std::uint32_t n, std::uint32_t m, const std::vector<std::uint32_t>& left_out = {}) {
  Sheet s;
  s.mesh.normals = {{0, -1, 0}};
  for (std::uint32_t j = 0; j <= m; ++j)
    for (std::uint32_t i = 0; i <= n; ++i) {
      s.mesh.points.push_back({double(i), 0, double(j)});
      s.address.push_back({double(i), double(j)});
    }
  for (std::uint32_t c = 0; c < n * m; ++c) {
    if (std::find(left_out.begin(), left_out.end(), c) != left_out.end()) continue;
    const std::uint32_t a = c / n * (n + 1) + c % n, b = a + 1, d = a + n + 1, e = d + 1;
    s.mesh.triangles.push_back({a, b, e});
    s.mesh.triangles.push_back({a, e, d});
  }
  s.mesh.corner_normals.assign(s.mesh.triangles.size(), {0, 0, 0});
  return s;
}

void check_refused(const Sheet& s, const std::string& place, const std::string& word) {
  const auto chart = s.certified();
  REQUIRE_FALSE(chart.ok());
  CAPTURE(chart.problem().message());
  CHECK(chart.problem().where.find(place) != std::string::npos);
  CHECK(chart.problem().what.find(word) != std::string::npos);
  CHECK_FALSE(chart.problem().remedy.empty());
}

}  // namespace

TEST_CASE("a sound sheet is certified, moved to the origin, with its stretch") {
  auto s = sheet(4, 3);
  for (auto& a : s.address) a = {2 * a.x - 7, a.y + 5};
  const auto chart = s.certified();
  REQUIRE(chart.ok());
  CHECK(chart->box().width == 8);
  CHECK(chart->box().height == 3);
  CHECK(chart->stretch().least == Approx(0.5));
  CHECK(chart->stretch().greatest == Approx(1));
  REQUIRE(chart->border_loops().size() == 1);
  CHECK(chart->border_loops()[0].size() == 14);
  CHECK(twice_area(chart->border_rings()[0]) > 0);
}

TEST_CASE("a folded, a thin and a doubled triangle are refused with the place") {
  auto folded = sheet(4, 4);
  folded.address[12] = {3.5, 2.2};  // the middle point pulled over its neighbour
  check_refused(folded, "near X 2", "folds");
  auto thin = sheet(4, 4);
  for (int i = 0; i <= 4; ++i) thin.address[std::size_t(20 + i)].y = 3 + 16 * kPitch;  // slanted, a hair under 16
  check_refused(thin, "Z 3", "squeezed");
  for (int i = 0; i <= 4; ++i) thin.address[std::size_t(20 + i)].y = 3 + 17 * kPitch;
  CHECK(thin.certified().ok());
  auto doubled = sheet(4, 4);
  doubled.mesh.triangles.push_back(doubled.mesh.triangles[9]);
  doubled.mesh.corner_normals.push_back({0, 0, 0});
  check_refused(doubled, "near X", "double");
}

TEST_CASE("sheets that branch, touch in a point, turn over or have no edge are refused") {
  auto branching = sheet(2, 2);
  branching.mesh.points.push_back({1.5, 1, 1.5});
  branching.address.push_back({9, 9});
  branching.mesh.triangles.push_back({4, 5, 9});
  branching.mesh.corner_normals.push_back({0, 0, 0});
  check_refused(branching, "near X 1", "branches");
  check_refused(sheet(2, 2, {1, 2}), "near X 1.000, Y 0.000, Z 1.000", "single point");
  auto turned = sheet(2, 2);
  std::swap(turned.mesh.triangles[3][0], turned.mesh.triangles[3][1]);
  check_refused(turned, "near X", "turned over");
  Sheet closed;
  closed.mesh.points = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  closed.mesh.triangles = {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}};
  closed.address = {{0, 0}, {1, 0}, {0, 1}, {1, 1}};
  check_refused(closed, "near X", "closed");
}

TEST_CASE("pieces, crossing borders and overlapping laps are refused") {
  check_refused(sheet(3, 1, {1}), "near X", "separate pieces");
  // A strip wound round one and a half times: every triangle is positive, yet it lies over itself.
  Sheet lap;
  lap.mesh.normals = {{0, 0, -1}};
  for (std::uint32_t i = 0; i <= 36; ++i) {
    const double angle = 15 * i * std::acos(-1) / 180;
    for (const double r : {2.0, 1.0}) {
      lap.mesh.points.push_back({r * std::cos(angle), r * std::sin(angle), 0.1 * i});
      lap.address.push_back({r * std::cos(angle), r * std::sin(angle)});
    }
    if (i == 36) break;
    const std::uint32_t a = 2 * i;
    lap.mesh.triangles.push_back({a, a + 2, a + 3});
    lap.mesh.triangles.push_back({a, a + 3, a + 1});
  }
  lap.mesh.corner_normals.assign(lap.mesh.triangles.size(), {0, 0, 0});
  check_refused(lap, "near X", "edge of the surface runs over itself");
}

TEST_CASE("addresses that are no numbers, too far or missing are refused") {
  auto s = sheet(2, 2);
  s.address[4].x = std::nan("");
  check_refused(s, "near X 1.000, Y 0.000, Z 1.000", "laid flat");
  s = sheet(2, 2);
  s.address[8] = {5000, 5000};
  CHECK_FALSE(s.certified().ok());
  s.address.pop_back();
  CHECK_FALSE(s.certified().ok());
  CHECK_FALSE(Chart::certify(std::make_shared<SurfaceMesh>(), {}, "nothing").ok());
}

TEST_CASE("holes are listed after the outer border, clockwise") {
  const auto chart = sheet(8, 5, {9, 10, 20, 22}).certified();  // a hole of two cells, two of one
  REQUIRE(chart.ok());
  const auto rings = chart->border_rings();
  REQUIRE(rings.size() == 4);
  CHECK(twice_area(rings[0]) > 0);
  for (std::size_t i = 1; i < rings.size(); ++i) CHECK(twice_area(rings[i]) < 0);
  CHECK_FALSE(chart->locate({1.5, 1.5}));
  CHECK(chart->locate({4.5, 1.5}));
  const auto brought = chart->clamp({1.4, 1.2});
  CHECK(std::hypot(brought.u - 1.4, brought.v - 1.0) < 3 * kPitch);
  CHECK(chart->locate(brought));
}

TEST_CASE("every border edge knows its triangle, and neighbours know each other") {
  const auto wall = apse_wall(2, 1, 1e-3);
  const auto& chart = *wall->chart;
  std::size_t borders = 0;
  for (std::uint32_t t = 0; t < chart.mesh().triangles.size(); ++t)
    for (int k = 0; k < 3; ++k) {
      const auto other = chart.across(t, k);
      if (other == Chart::kNoTriangle) {
        ++borders;
        const auto edge = chart.border_edge_from(chart.mesh().triangles[t][std::size_t(k)]);
        CHECK(chart.border_edges()[edge].triangle == t);
        CHECK(chart.border_edges()[edge].side == k);
      } else {
        CHECK((chart.across(other, 0) == t || chart.across(other, 1) == t || chart.across(other, 2) == t));
      }
    }
  CHECK(borders == chart.border_edges().size());
  CHECK(borders == chart.border_loops()[0].size());
}

TEST_CASE("every lattice place of the wall lies in a triangle, and only those") {
  const auto wall = dome_wall(3, 1, 1e-3);
  const auto& chart = *wall->chart;
  const auto ring = chart.border_rings()[0];
  std::mt19937_64 rng(11);
  std::uniform_real_distribution<double> uniform(-0.05, 1.05);
  for (int i = 0; i < 3000; ++i) {
    const auto p = to_lattice({uniform(rng) * chart.box().width, uniform(rng) * chart.box().height});
    const auto t = chart.triangle_at(p);
    REQUIRE(t.has_value() == (point_in_ring(ring, p) >= 0));
    if (!t) continue;
    const Vec3 w = chart.weights(*t, to_chart(p));
    REQUIRE(std::min({w.x, w.y, w.z}) > -1e-12);
    const auto back = chart.address(*chart.locate(to_chart(p)));
    REQUIRE(std::hypot(back.u - to_chart(p).u, back.v - to_chart(p).v) < 1e-12);
  }
  for (const auto& p : chart.places()) REQUIRE(chart.triangle_at(p));  // corners are held too
}

TEST_CASE("clamp leaves places inside alone and brings others to the nearest border") {
  const auto wall = dome_wall(3, 1.5, 1e-3);
  const auto& chart = *wall->chart;
  const double c = chart.box().width / 2;
  CHECK(chart.clamp({c, 0.3}) == ChartPoint{c, 0.3});
  std::mt19937_64 rng(12);
  std::uniform_real_distribution<double> turn(0, 6.28);
  for (int i = 0; i < 500; ++i) {
    const double a = turn(rng);
    const auto p = chart.clamp({c + 1.1 * c * std::cos(a), c + 1.1 * c * std::sin(a)});
    REQUIRE(chart.triangle_at(to_lattice(p)));
    REQUIRE(to_chart(to_lattice(p)) == p);
    REQUIRE(std::hypot(p.u - c, p.v - c) == Approx(c).margin(1e-3));
  }
}

TEST_CASE("the nearest place on the border is the one that trying all edges finds") {
  const auto wall = apse_wall(2, 1, 1e-3);
  const auto holed = sheet(8, 5, {9, 10, 20, 22}).certified();
  REQUIRE(holed.ok());
  std::mt19937_64 rng(13);
  std::uniform_real_distribution<double> uniform(-0.5, 1.5);
  for (const Chart* chart : {wall->chart.get(), &*holed})
    for (int i = 0; i < 2000; ++i) {
      const ChartPoint p{uniform(rng) * chart->box().width, uniform(rng) * chart->box().height};
      double least = 1e300;
      const auto to = [&](std::uint32_t e, double s) {
        const ChartPoint a = to_chart(chart->border_start(e)), b = to_chart(chart->border_end(e));
        return std::hypot(a.u + s * (b.u - a.u) - p.u, a.v + s * (b.v - a.v) - p.v);
      };
      for (std::uint32_t e = 0; e < chart->border_edges().size(); ++e) {
        const ChartPoint a = to_chart(chart->border_start(e)), b = to_chart(chart->border_end(e));
        const Vec2 along{b.u - a.u, b.v - a.v}, off{p.u - a.u, p.v - a.v};
        least = std::min(least, to(e, std::clamp(glm::dot(off, along) / glm::dot(along, along), 0.0, 1.0)));
      }
      const auto found = chart->nearest_border(p);
      REQUIRE(to(found.edge, found.along) == Approx(least).margin(1e-12));
    }
}
