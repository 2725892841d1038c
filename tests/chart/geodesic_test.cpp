#include "engine/chart/geodesic.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/chart/parameterise.h"
#include "tests/fixtures/noisy_scans.h"
#include "tests/fixtures/random_places.h"
#include "tests/fixtures/shapes.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

ChartPoint any(const ChartedWall& wall, Random& random) { return to_chart(any_place(wall, random)); }

TapeLine tape(const ChartedWall& wall, ChartPoint a, ChartPoint b) {
  auto line = stretch_tape(wall, a, b);
  REQUIRE(line.ok());
  return *line;
}

double length_of(const std::vector<Vec3>& way) {
  double sum = 0;
  for (std::size_t i = 1; i < way.size(); ++i) sum += glm::length(way[i] - way[i - 1]);
  return sum;
}

// What holds of any tape: it ends where it should, is as long as its way, no longer than the chart's straight line
// there, and no shorter than the air.
void check_tape(const ChartedWall& wall, ChartPoint a, ChartPoint b, const TapeLine& line) {
  REQUIRE(glm::length(line.way.front() - *wall.position(a)) < 1e-9);
  REQUIRE(glm::length(line.way.back() - *wall.position(b)) < 1e-9);
  REQUIRE(line.over_m == Approx(length_of(line.way)).epsilon(1e-9).margin(1e-12));
  REQUIRE(line.over_m >= line.straight_m * (1 - 1e-12));
  REQUIRE(line.over_m <= wall.metric->measure(to_lattice(a), to_lattice(b)).length_m * (1 + 1e-9) + 1e-8);
}

// A sheet of squares of side 0.1 m over the plane y = 0, less those that `missing` names.
template <class F>
WallRef sheet_without(int columns, int rows, F&& missing) {
  SurfaceMesh mesh;
  std::vector<Vec2> address;
  mesh.normals = {{0, -1, 0}};
  std::vector<int> index(static_cast<std::size_t>((columns + 1) * (rows + 1)), -1);
  const auto point = [&](int i, int j) {
    int& k = index[static_cast<std::size_t>(j * (columns + 1) + i)];
    if (k < 0) {
      k = static_cast<int>(address.size());
      address.push_back({0.1 * i, 0.1 * j});
      mesh.points.push_back({0.1 * i, 0, 0.1 * j});
    }
    return static_cast<std::uint32_t>(k);
  };
  for (int j = 0; j < rows; ++j)
    for (int i = 0; i < columns; ++i) {
      if (missing(i, j)) continue;
      const auto a = point(i, j), b = point(i + 1, j), c = point(i + 1, j + 1), d = point(i, j + 1);
      mesh.triangles.push_back({a, b, c}), mesh.triangles.push_back({a, c, d});
    }
  mesh.corner_normals.assign(mesh.triangles.size(), {0, 0, 0});
  return chart_wall(std::make_shared<const SurfaceMesh>(std::move(mesh)), address, "sheet", false).value();
}

// A drum of radius r all round, cut along a generator: n columns.
WallRef round_drum(double r, double height, int n, int rows) {
  SurfaceMesh mesh;
  std::vector<Vec2> address;
  for (int j = 0; j <= rows; ++j)
    for (int i = 0; i <= n; ++i) {
      const double phi = 2 * kPi * (i % n) / n;
      const Vec3 out{-std::cos(phi), std::sin(phi), 0};
      mesh.points.push_back(r * out + Vec3{0, 0, height * j / rows});
      mesh.normals.push_back(-out);
      address.push_back({r * 2 * kPi * i / n, height * j / rows});
    }
  for (int j = 0; j < rows; ++j)
    for (int i = 0; i < n; ++i) {
      const auto a = static_cast<std::uint32_t>(j * (n + 1) + i), d = a + static_cast<std::uint32_t>(n) + 1;
      mesh.triangles.push_back({a, a + 1, d + 1}), mesh.triangles.push_back({a, d + 1, d});
    }
  mesh.corner_normals = mesh.triangles;
  return chart_wall(std::make_shared<const SurfaceMesh>(std::move(mesh)), address, "drum", false).value();
}

}  // namespace

TEST_CASE("on a flat wall the tape is straight") {
  Random random(41);
  const auto wall = flat_wall(5, 3);
  for (int i = 0; i < 50; ++i) {
    const auto a = any(*wall, random), b = any(*wall, random);
    const auto line = tape(*wall, a, b);
    check_tape(*wall, a, b, line);
    REQUIRE(line.over_m == Approx(std::hypot(a.u - b.u, a.v - b.v)).epsilon(1e-8).margin(1e-8));
    REQUIRE(line.straight_m == Approx(line.over_m).epsilon(1e-8).margin(1e-8));
  }
}

TEST_CASE("on a dome the tape follows the great circle") {
  // R times the angle at the centre (any table of the sphere).
  Random random(42);
  for (const auto& [span, rise] : {std::pair{6.0, 3.0}, std::pair{6.0, 1.0}}) {
    const auto wall = dome_wall(span, rise);
    const double radius = (0.25 * span * span + rise * rise) / (2 * rise);
    const Vec3 centre{0, 0, rise - radius};
    for (int i = 0; i < 12; ++i) {
      const auto a = any(*wall, random), b = any(*wall, random);
      const Vec3 p = *wall->position(a) - centre, q = *wall->position(b) - centre;
      const double angle = std::atan2(glm::length(glm::cross(p, q)), glm::dot(p, q));
      const auto line = tape(*wall, a, b);
      check_tape(*wall, a, b, line);
      // The great circle stays on the dome only where it does not dip below the rim; a hemisphere always holds it.
      if (rise * 2 == span) REQUIRE(line.over_m == Approx(radius * angle).epsilon(1e-4));
      REQUIRE(line.over_m > radius * angle * (1 - 1e-4));
    }
  }
}

TEST_CASE("on a barrel the tape is a helix") {
  Random random(43);
  const auto wall = barrel_wall(4, 6, 2);
  for (int i = 0; i < 12; ++i) {
    const auto a = any(*wall, random), b = any(*wall, random);
    const auto line = tape(*wall, a, b);
    check_tape(*wall, a, b, line);
    REQUIRE(line.over_m == Approx(std::hypot(a.u - b.u, a.v - b.v)).epsilon(1e-4));
  }
}

TEST_CASE("round a window the tape takes the shorter side and touches its corners") {
  // Window from (2, 1) to (3, 2): the shortest way between (1, 1.4) and (4, 1.4) goes under it by two corners,
  // 1 + 2 sqrt(1^2 + 0.4^2); higher up, over it.
  const auto wall = sheet_without(50, 30, [](int i, int j) { return i >= 20 && i < 30 && j >= 10 && j < 20; });
  const auto way = [&](double v) { return tape(*wall, {1, v}, {4, v}).over_m; };
  CHECK(way(1.4) == Approx(1 + 2 * std::hypot(1, 0.4)).epsilon(1e-8));
  CHECK(way(1.6) == Approx(1 + 2 * std::hypot(1, 0.4)).epsilon(1e-8));
  CHECK(way(1.49) == Approx(1 + 2 * std::hypot(1, 0.49)).epsilon(1e-8));
  CHECK(way(1.51) == Approx(1 + 2 * std::hypot(1, 0.49)).epsilon(1e-8));
  CHECK(way(1.0) == Approx(3).epsilon(1e-8));
  const auto line = tape(*wall, {1, 1.4}, {4, 1.4});
  CHECK(line.straight_m == Approx(3).epsilon(1e-8));
  const auto touches = [&](Vec3 p) {
    return std::any_of(line.way.begin(), line.way.end(), [&](const Vec3& q) { return glm::length(p - q) < 1e-9; });
  };
  CHECK(touches({2, 0, 1}));
  CHECK(touches({3, 0, 1}));
}

TEST_CASE("the tape goes round the wall's own inner corner") {
  // An L: the shortest way between the ends of its arms bends at the inner corner (1, 1).
  const auto wall = sheet_without(30, 30, [](int i, int j) { return i >= 10 && j >= 10; });
  CHECK(tape(*wall, {3, 0.5}, {0.5, 3}).over_m == Approx(2 * std::hypot(2, 0.5)).epsilon(1e-8));
  CHECK(tape(*wall, {3, 0}, {0, 3}).over_m == Approx(2 * std::hypot(2, 1)).epsilon(1e-8));
}

TEST_CASE("the tape crosses the cut of a round tower") {
  const double r = 1.5, round = 2 * kPi * r;
  const auto wall = round_drum(r, 3, 400, 12);
  REQUIRE(wall->chart->has_cuts());
  Random random(44);
  for (int i = 0; i < 40; ++i) {
    const auto a = any(*wall, random), b = any(*wall, random);
    const double across = std::abs(a.u - b.u), du = std::min(across, round - across);
    const auto line = tape(*wall, a, b);
    check_tape(*wall, a, b, line);
    REQUIRE(line.over_m == Approx(std::hypot(du, a.v - b.v)).epsilon(1e-4));
    if (std::abs(across - 0.5 * round) > 0.05) REQUIRE(line.chart.size() == (across > 0.5 * round ? 2u : 1u));
  }
  const auto line = tape(*wall, {0.3, 1}, {round - 0.3, 1.2});
  CHECK(line.over_m == Approx(std::hypot(0.6, 0.2)).epsilon(1e-4));
  REQUIRE(line.chart.size() == 2);
  CHECK(line.chart[0].back().u == Approx(0).margin(1e-6));
  CHECK(line.chart[1].front().u == Approx(round).epsilon(1e-6));
  CHECK(line.chart[0].back().v == Approx(line.chart[1].front().v).epsilon(1e-6));
}

TEST_CASE("on every shape the tape is no longer than other ways, and the same from either end") {
  Random random(46);
  for (const auto& spec : every_shape()) {
    const auto wall = built(spec, 30 * default_tolerance(spec));
    CAPTURE(shape_name(spec.kind));
    for (int i = 0; i < 8; ++i) {
      const auto a = any(*wall, random), b = any(*wall, random), c = any(*wall, random);
      const auto line = tape(*wall, a, b);
      check_tape(*wall, a, b, line);
      const double back = tape(*wall, b, a).over_m;
      REQUIRE(line.over_m == Approx(back).epsilon(2e-4).margin(1e-8));
      REQUIRE(line.over_m <= (tape(*wall, a, c).over_m + tape(*wall, c, b).over_m) * (1 + 2e-4) + 1e-8);
      // In a developed chart nothing is shorter than the chart's straight line.
      using enum ShapeKind;
      const bool developed = spec.kind == flat || spec.kind == lunette || spec.kind == barrel ||
                             spec.kind == pointed_barrel || spec.kind == elliptical_barrel ||
                             (spec.kind == drum && !wall->chart->has_cuts());
      if (developed) REQUIRE(line.over_m == Approx(std::hypot(a.u - b.u, a.v - b.v)).epsilon(2e-3).margin(1e-6));
    }
  }
}

TEST_CASE("round a cone the tape is the straight line of its developed sector, over the cut too") {
  // Closed form: development of the cone; apex angle of the sector theta = 2 pi r / s (any table of the cone).
  const ShapeSpec spec{.kind = ShapeKind::cone, .height = 3, .span = 4, .top_span = 2, .angle_deg = 360};
  const auto wall = built(spec);
  const double slant = std::hypot(3, 1), full = 2 * slant, sector = 2 * kPi * 2 / full;  // r 2 to 1 over 3 m
  const auto polar = [&](ChartPoint p) {
    const Vec3 q = *wall->position(p);
    return std::pair{full * (1 - q.z / 6), std::atan2(q.y, q.x) * sector / (2 * kPi)};
  };
  Random random(47);
  int crossed = 0;
  for (int i = 0; i < 30; ++i) {
    const auto a = any(*wall, random), b = any(*wall, random);
    const auto [ra, ta] = polar(a);
    const auto [rb, tb] = polar(b);
    double turn = std::abs(ta - tb);
    turn = std::min(turn, sector - turn);
    // Nearest that the straight line comes to the apex: beyond the upper rim it is no way on the wall.
    const double length = std::sqrt(ra * ra + rb * rb - 2 * ra * rb * std::cos(turn));
    if (length < 0.1 || ra * rb * std::sin(turn) / length < 0.5 * full + 0.01) continue;
    const auto line = tape(*wall, a, b);
    check_tape(*wall, a, b, line);
    REQUIRE(line.over_m == Approx(length).epsilon(1e-4));
    crossed += line.chart.size() > 1 ? 1 : 0;
  }
  CHECK(crossed > 0);
}

TEST_CASE("a tape of no length, along the border, and places outside") {
  const auto wall = barrel_wall(4, 3, 2, 1e-3);
  const double top = wall->chart->box().height;
  const auto none = tape(*wall, {1, 1}, {1, 1});
  CHECK(none.over_m == 0);
  CHECK(none.way.size() == 1);
  CHECK(tape(*wall, {0, 0}, {3, 0}).over_m == Approx(3).epsilon(1e-9));
  CHECK(tape(*wall, {0, 0}, {0, top}).over_m == Approx(2 * kPi).epsilon(1e-3));
  const auto refused = stretch_tape(*wall, {1, 1}, {3.5, 1});
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.problem().message().find("outside the wall") != std::string::npos);
}

TEST_CASE("on a noisy scan the tape is the distance on the wall under the noise") {
  // Helices on a cylinder of 0.5 m, noise of 1 mm.
  const auto piece = cylinder_piece(0.5, 0.8, 0.8);
  const auto sheet = noisy_scan(piece, 0.014, 0.001, 7);
  ScanOptions options;
  options.y_up = false;
  auto scan = clean_scan(sheet.points, sheet.triangles, "cylinder", options).value();
  const auto mesh = std::make_shared<const SurfaceMesh>(std::move(scan.mesh));
  const auto wall = chart_wall(mesh, parameterise(*mesh, "cylinder").value(), "cylinder", true).value();
  for (const auto& [a, b] : {std::pair{Vec2{0.05, 0.1}, Vec2{0.75, 0.7}}, std::pair{Vec2{0.1, 0.7}, Vec2{0.7, 0.2}},
                             std::pair{Vec2{0.4, 0.05}, Vec2{0.45, 0.75}}}) {
    const auto line =
        tape(*wall, wall->address(piece.place(a.x, a.y)).place, wall->address(piece.place(b.x, b.y)).place);
    CHECK(line.over_m == Approx(glm::length(b - a)).epsilon(2e-3));
  }
}
