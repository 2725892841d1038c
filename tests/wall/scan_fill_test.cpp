// Holes of a scan, filled or left open.
#include "engine/wall/scan_polygons.h"
#include "engine/wall/scan_rim.h"
#include "tests/wall/scan_checks.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// Without the triangles whose middle `lost` says.
Sheet without(Sheet sheet, const std::function<bool(const Vec3&)>& lost) {
  std::erase_if(sheet.triangles, [&](const Triangle& t) {
    return lost((sheet.points[t[0]] + sheet.points[t[1]] + sheet.points[t[2]]) / 3.0);
  });
  return sheet;
}

double edge_ratio(const SurfaceMesh& mesh) {  // longest to shortest edge
  double least = 1e300, most = 0;
  for (const Triangle& t : mesh.triangles)
    for (std::size_t k = 0; k < 3; ++k) {
      const double l = glm::length(mesh.points[t[(k + 1) % 3]] - mesh.points[t[k]]);
      least = std::min(least, l), most = std::max(most, l);
    }
  return most / least;
}

ScanOptions filling(double rim) {
  ScanOptions options = z_up();
  options.fill_rim_m = rim;
  return options;
}

}  // namespace

TEST_CASE("holes up to the length said are filled, longer ones stay open, each is listed") {
  const Sheet wall = without(flat_sheet(4, 4, 16, 16), [](const Vec3& c) {
    const bool window = c.x > 1 && c.x < 2 && c.z > 1 && c.z < 3;
    return window || (c.x > 3 && c.x < 3.5 && c.z > 3 && c.z < 3.25);
  });
  const auto scan = cleaned(wall, filling(2));
  CHECK(scan.raw_area_m2 == Approx(14).epsilon(1e-9));
  REQUIRE(scan.report.hole_list.size() == 2);
  CHECK(scan.report.holes == 2);
  CHECK(scan.report.hole_list[0].rim_m == Approx(6));
  CHECK_FALSE(scan.report.hole_list[0].filled);
  CHECK(glm::length(scan.report.hole_list[0].at - Vec3{1.5, 0, 2}) < 0.05);
  CHECK(scan.report.hole_list[1].rim_m == Approx(1.5));
  CHECK(scan.report.hole_list[1].filled);
  CHECK(says(scan.report, "hole 1: rim 6.00 m"));
  CHECK(says(scan.report, "1 filled, 1 left open"));
  for (const Vec3& p : scan.mesh.points) CHECK(std::abs(p.y) < 1e-9);
  check_sheet(scan.mesh);
  CHECK(cleaned(wall, filling(1.4)).report.hole_list[1].filled == false);
}

TEST_CASE("the filling of a dome's hole lies on the dome, with triangles like those round it") {
  const double radius = 3;
  const Sheet dome = cap_sheet(radius, 1.0, 60);
  const Sheet holed = without(dome, [](const Vec3& c) { return std::hypot(c.x - 0.8, c.y) < 0.3; });
  const auto scan = cleaned(holed, filling(3)), whole = cleaned(dome);
  REQUIRE(scan.report.hole_list.size() == 1);
  REQUIRE(scan.report.hole_list[0].filled);
  double worst = 0;
  for (const Vec3& p : scan.mesh.points) worst = std::max(worst, std::abs(glm::length(p) - radius));
  CHECK(worst < 5e-4);  // a flat filling would lie 15 mm off: 0.3^2 / (2 * 3)
  CHECK(scan.raw_area_m2 == Approx(whole.raw_area_m2).epsilon(2e-5));
  CHECK(edge_ratio(scan.mesh) < 2 * edge_ratio(whole.mesh));
  check_sheet(scan.mesh);
}

TEST_CASE("a hole of many points and of hollow outline is filled") {
  const Sheet wall = without(flat_sheet(4, 4, 120, 120), [](const Vec3& c) {
    const double r = std::hypot(c.x - 2, c.z - 2), a = std::atan2(c.z - 2, c.x - 2);
    return r < 1.1 + 0.5 * std::sin(5 * a);
  });
  const auto scan = cleaned(wall, filling(30));
  REQUIRE(scan.report.hole_list.size() == 1);
  CHECK(scan.report.hole_list[0].filled);
  CHECK(scan.raw_area_m2 == Approx(16).epsilon(1e-6));
  check_sheet(scan.mesh);
}

TEST_CASE("filling never closes the wall's own border") {
  const auto scan = cleaned(cap_sheet(1, 1.0, 10), filling(1000));
  CHECK(scan.report.hole_list.empty());
  check_sheet(scan.mesh);
}

TEST_CASE("the same holes are filled with the same points") {
  const Sheet holed = without(cap_sheet(3, 1.0, 30), [](const Vec3& c) { return std::hypot(c.x - 0.8, c.y) < 0.4; });
  const auto one = cleaned(holed, filling(5)), two = cleaned(holed, filling(5));
  CHECK(one.mesh.points == two.mesh.points);
  CHECK(one.mesh.triangles == two.mesh.triangles);
}

TEST_CASE("a rim is spanned with the least fold, and not over forbidden edges") {
  // A folded square: two triangles that meet along the valley 1-3, or across it.
  const std::vector<Vec3> points{{0, 0, 0}, {1, 0, -0.5}, {2, 0, 0}, {1, 2, -0.5}};
  const std::vector<Vec3> outward(4, Vec3{0, 0, 0});
  const auto any = [](std::uint32_t, std::uint32_t) { return true; };
  CHECK(span_rim(points, {0, 1, 2, 3}, outward, any).size() == 2);
  const auto one = [](std::uint32_t a, std::uint32_t b) { return a + b != 2; };
  for (const Triangle& t : span_rim(points, {0, 1, 2, 3}, outward, one))
    CHECK((std::find(t.begin(), t.end(), 1u) != t.end() && std::find(t.begin(), t.end(), 3u) != t.end()));
  CHECK(span_rim(points, {0, 1, 2, 3}, outward, [](std::uint32_t, std::uint32_t) { return false; }).empty());
  CHECK(span_rim(points, {0, 1}, {outward[0], outward[1]}, any).empty());
}

TEST_CASE("a face of many corners is split without overlap") {
  Dice dice(19);
  for (int round = 0; round < 20; ++round) {  // stars: hollow at every other corner
    const std::size_t n = 5 + dice.below(40);
    std::vector<Vec3> points;
    std::vector<std::uint32_t> corners;
    double area = 0;
    for (std::size_t i = 0; i < n; ++i) {
      const double a = 2 * std::numbers::pi * double(i) / double(n), r = dice.between(0.3, 1);
      points.push_back({r * std::cos(a), r * std::sin(a), 0.3 * r * std::cos(a)});
      corners.push_back(static_cast<std::uint32_t>(i));
    }
    const Vec3 up = Vec3{-0.3, 0, 1} / std::sqrt(1.09);
    const auto signed_area = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
      return glm::dot(up, glm::cross(points[b] - points[a], points[c] - points[a])) / 2;
    };
    for (std::size_t i = 1; i + 1 < n; ++i)
      area += signed_area(0, static_cast<std::uint32_t>(i), static_cast<std::uint32_t>(i + 1));
    std::vector<Triangle> triangles;
    split_polygon(points, corners, triangles);
    REQUIRE(triangles.size() == n - 2);
    double sum = 0;
    for (const Triangle& t : triangles) {
      CHECK(signed_area(t[0], t[1], t[2]) > -1e-12);
      sum += signed_area(t[0], t[1], t[2]);
    }
    CHECK(sum == Approx(area));
  }
}
