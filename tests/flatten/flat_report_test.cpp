// What a flat map says of itself, against maps whose errors are known in closed form.
#include "engine/flatten/flat_report.h"

#include <catch2/catch.hpp>

#include "engine/flatten/paper_lines.h"
#include "hand_patches.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

std::vector<RestTriangle> rest_of(const Patch& p) {
  std::vector<RestTriangle> out;
  for (const Triangle& t : p.triangles)
    out.push_back(
        rest_triangle({glm::distance(p.points[t[0]], p.points[t[1]]), glm::distance(p.points[t[1]], p.points[t[2]]),
                       glm::distance(p.points[t[2]], p.points[t[0]])}));
  return out;
}

// A flat sheet of 2 x 1 m.
Patch sheet(int n = 20, int m = 10) {
  return grid_patch(2, 1, n, m, [](double u, double v) { return Vec3{u, 0, v}; });
}

Flattening report(const Patch& p, const std::function<Vec2(double, double)>& map) {
  Flattening out;
  for (const ChartPoint& c : p.places) out.flat.push_back(map(c.u, c.v));
  report_map(p, rest_of(p), out);
  return out;
}

}  // namespace

TEST_CASE("a sheet printed 3 per mille too wide says so in every measure") {
  const Patch p = sheet();
  const Flattening f = report(p, [](double u, double v) { return Vec2{1.003 * u, 0.999 * v}; });
  CHECK(f.max_strain == Approx(0.003));
  CHECK(f.most_stretched == Approx(0.003));
  CHECK(f.most_shrunk == Approx(-0.001));
  CHECK(f.mean_strain == Approx(std::sqrt((9e-6 + 1e-6) / 2)));
  CHECK(f.outline_mm_per_m == Approx(3));
  CHECK(f.worst_pair_mm == Approx(6));  // along the long side
  CHECK(std::abs(f.flat[f.worst_pair.first].x - f.flat[f.worst_pair.second].x) == Approx(2.006));
  CHECK_FALSE(f.folded);
}

TEST_CASE("lines on the paper are as long on the wall as the map says") {
  // printed at x = ((1 + u) / 2)^2
  const Patch p = grid_patch(2, 1, 200, 40, [](double u, double v) { return Vec3{u, 0, v}; });
  std::vector<Vec2> flat;
  for (const ChartPoint& c : p.places) flat.emplace_back((1 + c.u) * (1 + c.u) / 4, c.v);
  const auto rest = rest_of(p);
  const PaperLines lines(p, rest, flat);
  const auto id = [](std::uint32_t i, std::uint32_t j) { return j * 201 + i; };
  CHECK(lines.surface_length(id(10, 20), id(150, 20)).value() == Approx(1.4));
  CHECK(lines.surface_length(id(30, 3), id(30, 40)).value() == Approx(37.0 / 40));
  // slantwise, by a fine sum over the line of the map's inverse, u = 2 sqrt x - 1
  const Vec2 a = flat[id(0, 0)], b = flat[id(200, 40)];
  double expected = 0;
  for (int i = 0; i < 10000; ++i) {
    const double x1 = a.x + (b.x - a.x) * i / 10000, x2 = a.x + (b.x - a.x) * (i + 1) / 10000;
    expected += std::hypot(2 * std::sqrt(x2) - 2 * std::sqrt(x1), (b.y - a.y) / 10000);
  }
  CHECK(lines.surface_length(id(0, 0), id(200, 40)).value() == Approx(expected).epsilon(1e-4));
}

TEST_CASE("a line that leaves the paper is none") {
  // the lower right quarter of a sheet is missing
  Patch p = sheet();
  std::erase_if(p.triangles, [&](const Triangle& t) {
    const double u = p.places[t[0]].u + p.places[t[1]].u + p.places[t[2]].u;
    const double v = p.places[t[0]].v + p.places[t[1]].v + p.places[t[2]].v;
    return u > 3 && v < 1.5;
  });
  std::vector<Vec2> flat;
  for (const ChartPoint& c : p.places) flat.emplace_back(c.u, c.v);
  const auto rest = rest_of(p);
  const PaperLines lines(p, rest, flat);
  const auto id = [](std::uint32_t i, std::uint32_t j) { return j * 21 + i; };
  CHECK_FALSE(lines.surface_length(id(9, 1), id(20, 6)));
  CHECK_FALSE(lines.surface_length(id(20, 6), id(9, 1)));
  CHECK(lines.surface_length(id(0, 0), id(20, 10)).value() == Approx(std::sqrt(5.0)));
  CHECK(lines.surface_length(id(10, 0), id(10, 5)).value() == Approx(0.5));  // along the rim, inside on its left
  CHECK(lines.surface_length(id(20, 5), id(10, 5)).value() == Approx(1));    // and from right to left
  CHECK(lines.surface_length(id(0, 0), id(0, 10)).value() == Approx(1));
}

TEST_CASE("the worst line of a ball's disc, printed true along its radii, is its rim's chord") {
  // Printed with true radii, the disc's rim is too long by alpha / sin alpha; a line of the paper at distance d from
  // the middle is shorter on the ball. Checked against every pair of a coarse disc.
  const double alpha = 0.3;
  const Patch p = disc_patch(3, alpha, 10);
  const Flattening f = report(p, [](double u, double v) { return Vec2{u, v}; });
  const auto rest = rest_of(p);
  const PaperLines lines(p, rest, f.flat);
  double worst = 0;
  for (std::uint32_t i = 0; i < p.points.size(); ++i)
    for (std::uint32_t j = 0; j < i; ++j)
      if (const auto length = lines.surface_length(i, j))
        worst = std::max(worst, std::abs(*length - glm::distance(f.flat[i], f.flat[j])));
  CHECK(f.worst_pair_mm == Approx(1000 * worst).epsilon(0.02));
  CHECK(f.worst_pair_mm <= 1000 * worst * (1 + 1e-9));
  CHECK(f.outline_mm_per_m == Approx(1000 * (alpha / std::sin(alpha) - 1)).epsilon(0.05));
}
