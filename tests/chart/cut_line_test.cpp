// Walls that close round themselves: where they are cut, what the cut leaves as it was, and how they lie in the chart.
#include "engine/chart/cut_line.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/chart/charted_wall.h"
#include "engine/chart/parameterise.h"
#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/scans.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

SurfaceMesh scanned(const Sheet& sheet) {
  ScanOptions options;
  options.y_up = false;
  auto scan = clean_scan(sheet.points, sheet.triangles, "scan", options);
  INFO((scan ? std::string() : scan.problem().message()));
  REQUIRE(scan.ok());
  return std::move(scan->mesh);
}

// A drum all round, seen from inside; its chart as in the table of DEVELOPERS.md.
Sheet tower(double radius, double height, int round, int rows) {
  return grid_sheet(round, rows, [=](double s, double t) {
    return Vec3{-radius * std::cos(2 * kPi * s), radius * std::sin(2 * kPi * s), height * t};
  });
}

Sheet without(Sheet sheet, const std::function<bool(const Vec3&)>& gone) {
  std::erase_if(sheet.triangles, [&](const Triangle& t) {
    return gone((sheet.points[t[0]] + sheet.points[t[1]] + sheet.points[t[2]]) / 3.0);
  });
  return sheet;
}

double area(const SurfaceMesh& mesh) { return sheet_area({mesh.points, mesh.triangles}); }

CutReport cut(SurfaceMesh& mesh, const std::optional<Vec3>& at = {}) {
  const auto report = cut_round_walls(mesh, "scan", at);
  INFO((report ? std::string() : report.problem().message()));
  REQUIRE(report.ok());
  return *report;
}

WallRef charted(const SurfaceMesh& mesh) {
  const auto places = parameterise(mesh, "scan");
  INFO((places ? std::string() : places.problem().message()));
  REQUIRE(places.ok());
  const auto wall = chart_wall(std::make_shared<const SurfaceMesh>(mesh), *places, "scan", true);
  INFO((wall ? std::string() : wall.problem().message()));
  REQUIRE(wall.ok());
  return *wall;
}

// Every pair of sides of a cut is one stretch of surface, both ways; returns the length of the cuts.
double paired_length(const Chart& chart) {
  double length = 0;
  for (std::uint32_t e = 0; e < chart.border_edges().size(); ++e) {
    const auto other = chart.across_cut(e);
    if (other == Chart::kNoTriangle) continue;
    REQUIRE(chart.across_cut(other) == e);
    const auto ends = [&](std::uint32_t edge) {
      const auto& b = chart.border_edges()[edge];
      const auto& t = chart.mesh().triangles[b.triangle];
      const auto k = static_cast<std::size_t>(b.side);
      return std::pair{chart.mesh().points[t[k]], chart.mesh().points[t[(k + 1) % 3]]};
    };
    const auto [from, to] = ends(e);
    const auto [other_from, other_to] = ends(other);
    REQUIRE(from == other_to);
    REQUIRE(to == other_from);
    length += 0.5 * glm::length(to - from);
  }
  return length;
}

}  // namespace

TEST_CASE("a round tower is cut straight up on the side of -X and lies flat without stretch") {
  SurfaceMesh mesh = scanned(tower(1.5, 3, 96, 32));
  const double before = area(mesh);
  const std::size_t points = mesh.points.size();
  const CutReport report = cut(mesh);
  REQUIRE(report.lines.size() == 1);
  CHECK(report.lines[0].length_m == Approx(3));
  CHECK(glm::length(report.lines[0].at - Vec3{-1.5, 0, 1.5}) < 0.1);
  CHECK(mesh.points.size() == points + 33);
  CHECK(area(mesh) == before);
  const WallRef wall = charted(mesh);
  CHECK(wall->chart->border_loops().size() == 1);
  CHECK(wall->chart->stretch().least > 0.99);
  CHECK(wall->chart->stretch().greatest < 1.01);
  CHECK(wall->chart->box().width == Approx(2 * kPi * 1.5).epsilon(2e-3));
  CHECK(wall->chart->box().height == Approx(3).epsilon(2e-3));
  CHECK(paired_length(*wall->chart) == Approx(3));
  CHECK(wall->metric->area() == Approx(2 * kPi * 1.5 * 3).epsilon(2e-3));
  CHECK(report.says()[0].find("goes all the way round") != std::string::npos);
  CHECK(report.says()[0].find("--cut X,Y,Z") != std::string::npos);
}

TEST_CASE("the line runs through the place that is asked for, straight up also on a rough scan") {
  Dice dice(5);
  Sheet rough = tower(1.5, 3, 240, 80);
  for (Vec3& p : rough.points) p += 1e-3 * Vec3{dice.between(-1, 1), dice.between(-1, 1), dice.between(-1, 1)};
  ScanOptions options;
  options.weld_m = 4e-3;
  options.y_up = false;
  SurfaceMesh mesh = clean_scan(rough.points, rough.triangles, "scan", options).value().mesh;
  const Vec3 wanted{1.2, -0.9, 1};
  const CutReport report = cut(mesh, wanted);
  REQUIRE(report.lines.size() == 1);
  CHECK(report.lines[0].length_m == Approx(3).epsilon(0.1));
  const WallRef wall = charted(mesh);
  double farthest = 0;
  for (std::uint32_t e = 0; e < wall->chart->border_edges().size(); ++e) {
    if (wall->chart->across_cut(e) == Chart::kNoTriangle) continue;
    const auto& b = wall->chart->border_edges()[e];
    const Vec3 p = mesh.points[mesh.triangles[b.triangle][static_cast<std::size_t>(b.side)]];
    farthest = std::max(farthest, std::hypot(p.x - wanted.x, p.y - wanted.y));
  }
  CHECK(farthest < 0.06);
  CHECK(wall->chart->stretch().least > 0.9);
  CHECK(wall->chart->stretch().greatest < 1.1);
}

TEST_CASE("a square tower with windows is cut once, and the windows stay windows") {
  // Sides of 3 m, counter-clockwise from the corner at -X -Y seen from above turned inside.
  const Sheet square = grid_sheet(80, 40, [](double s, double t) {
    const double along = 12 * s, part = std::fmod(along, 3.0) - 1.5;
    const int side = std::min(3, static_cast<int>(along / 3));
    const std::array<Vec3, 4> at{Vec3{-1.5, part, 0}, Vec3{part, 1.5, 0}, Vec3{1.5, -part, 0}, Vec3{-part, -1.5, 0}};
    return (s == 1 ? Vec3{-1.5, -1.5, 0} : at[static_cast<std::size_t>(side)]) + Vec3{0, 0, 6 * t};
  });
  SurfaceMesh mesh = scanned(without(square, [](const Vec3& c) {
    return std::abs(c.z - 3) < 0.6 && (std::abs(c.x) < 0.5 || (std::abs(c.y) < 0.5 && c.x > 0));
  }));
  const double before = area(mesh);
  const CutReport report = cut(mesh);
  REQUIRE(report.lines.size() == 1);
  CHECK(report.lines[0].length_m == Approx(6));
  CHECK(area(mesh) == before);
  const WallRef wall = charted(mesh);
  CHECK(wall->chart->border_loops().size() == 4);  // the outer one and three windows
  CHECK(paired_length(*wall->chart) == Approx(6));
  CHECK(wall->chart->stretch().least > 0.97);
  CHECK(wall->chart->stretch().greatest < 1.03);
}

TEST_CASE("a line that meets a window runs on beyond it") {
  SurfaceMesh mesh = scanned(without(tower(1.5, 3, 96, 32), [](const Vec3& c) {
    return c.x < 0 && std::abs(c.y) < 0.4 && std::abs(c.z - 1.5) < 0.5;
  }));
  const double before = area(mesh);
  REQUIRE(cut(mesh).lines.size() == 1);
  CHECK(area(mesh) == before);
  const WallRef wall = charted(mesh);
  CHECK(wall->chart->border_loops().size() == 1);  // the window opens into the cut
  CHECK(paired_length(*wall->chart) < 2.5);
  CHECK(wall->chart->stretch().greatest < 1.02);
}

TEST_CASE("an annular vault closed round its section is cut along its length") {
  const Sheet ring = grid_sheet(72, 60, [](double s, double t) {
    const double a = kPi / 2 * t, b = 2 * kPi * s, r = 5 - 0.8 * std::cos(b);
    return Vec3{r * std::cos(a), r * std::sin(a), 2 + 0.8 * std::sin(b)};
  });
  SurfaceMesh mesh = scanned(ring);
  const double before = area(mesh);
  const CutReport report = cut(mesh);
  REQUIRE(report.lines.size() == 1);
  CHECK(report.lines[0].at.z < 1.5);  // it lies: cut at its lowest
  CHECK(area(mesh) == before);
  const WallRef wall = charted(mesh);
  CHECK(wall->chart->border_loops().size() == 1);
  // Lengths along it lie between 4.2 and 5.8 m times the angle; a strip must take up half of that on either side.
  CHECK(wall->chart->stretch().least > 0.75);
  CHECK(wall->chart->stretch().greatest < 1.3);
  SurfaceMesh again = scanned(ring);
  CHECK(cut(again, Vec3{5.8 * std::sqrt(0.5), 5.8 * std::sqrt(0.5), 2}).lines[0].length_m ==
        Approx(5.8 * kPi / 2).epsilon(0.02));
}

TEST_CASE("a ring closed both ways is cut through and along") {
  Sheet ring = grid_sheet(72, 96, [](double s, double t) {
    const double a = 2 * kPi * t, b = 2 * kPi * s, r = 3 - 0.8 * std::cos(b);
    return Vec3{r * std::cos(a), r * std::sin(a), 0.8 * std::sin(b)};
  });
  ring = without(std::move(ring), [](const Vec3& c) { return std::hypot(c.x - 3.8, c.y, c.z) < 0.3; });
  SurfaceMesh mesh = scanned(ring);
  const double before = area(mesh);
  const CutReport report = cut(mesh);
  REQUIRE(report.lines.size() == 2);
  CHECK(report.lines[0].loop);
  CHECK_FALSE(report.lines[1].loop);
  CHECK(area(mesh) == before);
  CHECK(charted(mesh)->chart->has_cuts());
}

TEST_CASE("a room's walls round a free-standing pier joined by the ceiling are cut open to a sheet without bridges") {
  // Floor and ceiling of 4 x 4 m, 2 m apart, joined by a pier of 1 x 1 m in the middle and by one wall at -X.
  const auto flat = [](double z, bool up) {
    Sheet sheet = grid_sheet(32, 32, [=](double s, double t) { return Vec3{4 * (up ? s : 1 - s) - 2, 4 * t - 2, z}; });
    return without(std::move(sheet), [](const Vec3& c) { return std::abs(c.x) < 0.5 && std::abs(c.y) < 0.5; });
  };
  Sheet room = flat(0, true);
  append(room, flat(2, false));
  append(room, grid_sheet(32, 16, [](double s, double t) { return Vec3{-2, 4 * s - 2, 2 * t}; }));
  append(room, grid_sheet(32, 16, [](double s, double t) {  // the pier, seen from outside
           const double along = 4 * s, part = std::fmod(along, 1.0) - 0.5;
           const int side = std::min(3, static_cast<int>(along));
           const std::array<Vec3, 4> at{Vec3{part, -0.5, 0}, Vec3{0.5, part, 0}, Vec3{-part, 0.5, 0},
                                        Vec3{-0.5, -part, 0}};
           return (s == 1 ? Vec3{-0.5, -0.5, 0} : at[static_cast<std::size_t>(side)]) + Vec3{0, 0, 2 * t};
         }));
  SurfaceMesh mesh = scanned(room);
  const double before = area(mesh);
  const CutReport report = cut(mesh);
  REQUIRE(report.lines.size() >= 1);
  CHECK(report.lines[0].loop);
  CHECK(area(mesh) == before);
  CHECK(charted(mesh)->chart->has_cuts());
}

TEST_CASE("walls that need no cut are left alone") {
  const auto untouched = [](const Sheet& sheet) {
    SurfaceMesh mesh = scanned(sheet);
    const SurfaceMesh before = mesh;
    CHECK(cut(mesh).lines.empty());
    CHECK(mesh.points == before.points);
    CHECK(mesh.triangles == before.triangles);
  };
  untouched(flat_sheet(4, 3, 20, 15));
  const auto window = [](const Vec3& c) { return std::abs(c.x - 2) < 1.5 && std::abs(c.z - 1.5) < 1; };
  untouched(without(flat_sheet(4, 3, 40, 30), window));  // a large one: the wall is a frame
  untouched(cap_sheet(3, kPi / 2, 24));                  // a half dome's rim does not turn
  untouched(without(cap_sheet(3, kPi / 2, 24), [](const Vec3& c) { return std::hypot(c.x, c.y) < 0.6; }));  // oculus
  Sheet reveal = without(flat_sheet(4, 3, 40, 30), [](const Vec3& c) {  // a window with reveals of 0.3 m
    return std::abs(c.x - 2) < 0.5 && std::abs(c.z - 1.5) < 0.5;
  });
  append(reveal, grid_sheet(40, 3, [](double s, double t) {
           const double along = 4 * s, part = std::fmod(along, 1.0) - 0.5;
           const int side = std::min(3, static_cast<int>(along));
           const std::array<Vec3, 4> at{Vec3{part, 0, -0.5}, Vec3{0.5, 0, part}, Vec3{-part, 0, 0.5},
                                        Vec3{-0.5, 0, -part}};
           return (s == 1 ? Vec3{-0.5, 0, -0.5} : at[static_cast<std::size_t>(side)]) + Vec3{2, 0.3 * t, 1.5};
         }));
  untouched(reveal);
}

TEST_CASE("a round tower from a file is cut, told of, and built again on the places it was given") {
  const TestFolder folder;
  const Sheet sheet = y_up(tower(1.5, 3, 96, 32));
  const auto path = write_glb(folder.file("tower.glb"), {{sheet.points, sheet.triangles, {}, {}, {}, {}, {}}});
  ScanOptions options;
  options.cut_at = Vec3{1.5, 0, 1};
  const auto wall = build_wall(path, options, "tower");
  INFO((wall ? std::string() : wall.problem().message()));
  REQUIRE(wall.ok());
  CHECK((*wall)->chart->has_cuts());
  CHECK(std::any_of((*wall)->scan->says.begin(), (*wall)->scan->says.end(), [](const std::string& line) {
    return line.find("cut open along a line 3.00 m long near X 1.50") != std::string::npos;
  }));
  CHECK((*wall)->scan->says.back().find("is 1.00 to 1.00 times as long") != std::string::npos);
  const auto again = rebuild_wall(path, options, "tower", (*wall)->chart->places());
  REQUIRE(again.ok());
  CHECK((*again)->chart->places() == (*wall)->chart->places());
  options.cut_at = Vec3{-1.5, 0, 1};
  const auto moved = build_wall(path, options, "tower");
  REQUIRE(moved.ok());
  CHECK((*moved)->metric->area() == Approx((*wall)->metric->area()).epsilon(1e-9));
}
