// What intake mends: doubled points, faults of scanners, sides, parts.
#include "tests/wall/scan_checks.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

}  // namespace

TEST_CASE("placement turns and moves the scan") {
  ScanOptions options = z_up();
  options.placement = {{1, 2, 3}, 90};
  const auto scan = cleaned(flat_sheet(4, 3, 4, 3), options);
  CHECK(vector_area(scan.mesh).x == Approx(12));
  CHECK(scan.mesh.points[0].x == Approx(1));
  CHECK(scan.mesh.points[0].z == Approx(3));
}

TEST_CASE("a wall of an absurd size asks for the unit and names the likely one") {
  const TestFolder folder;
  const std::string path = write_glb(folder.file("mm.glb"), {glb_mesh(flat_sheet(3200, 2000, 4, 4))});
  const std::string message = refusal(path);
  CHECK(message.find("3.2 km") != std::string::npos);
  CHECK(message.find("--unit mm") != std::string::npos);
  ScanOptions options;
  options.unit_m = 0.001;
  CHECK(scanned(path, options).raw_area_m2 == Approx(6.4));
  const std::string small = write_glb(folder.file("small.glb"), {glb_mesh(flat_sheet(4, 3, 4, 4))});
  CHECK(refusal(small, options).find("4.0 mm") != std::string::npos);
}

TEST_CASE("units have their lengths and others are refused") {
  CHECK(*scan_unit("mm") == 0.001);
  CHECK(*scan_unit("cm") == 0.01);
  CHECK(*scan_unit("m") == 1);
  CHECK(*scan_unit("ft") == 0.3048);  // international foot, exact by definition
  CHECK(*scan_unit("in") == 0.0254);
  CHECK_FALSE(scan_unit("yard").ok());
  CHECK_FALSE(scan_unit("").ok());
}

TEST_CASE("a damaged dome comes back whole, its area within a thousandth") {
  // Closed form of a spherical cap, 2 pi R h: a = 3, h = 1: R = 5.
  const double radius = 5, half_angle = std::asin(3.0 / 5.0), area = 2 * kPi * radius * 1;
  const Sheet dome = cap_sheet(radius, half_angle, 40);
  Dice dice(7);
  Sheet scan = shattered(dome, 4e-6, dice);
  for (std::size_t i = 0; i < scan.triangles.size(); ++i)
    if (dice.unit() < 0.2) std::swap(scan.triangles[i][0], scan.triangles[i][1]);
  for (std::size_t k = 0; k < 200; ++k) {
    Triangle copy = scan.triangles[17 * k];
    std::rotate(copy.begin(), copy.begin() + 1, copy.end());
    scan.triangles.push_back(copy);
    scan.triangles.push_back({copy[0], copy[0], copy[1]});
  }
  append(scan, flat_sheet(0.3, 0.2, 3, 3));
  const auto out = cleaned(scan);
  CHECK(out.raw_area_m2 == Approx(area).epsilon(1e-3));
  CHECK(out.mesh.triangles.size() == dome.triangles.size());
  CHECK(out.mesh.points.size() == dome.points.size());
  CHECK(out.report.dropped_small_parts == 1);
  CHECK(out.report.dropped_duplicate == 200);
  CHECK(out.report.dropped_degenerate == 200);
  CHECK(out.report.flipped > 0);
  CHECK(out.report.holes == 0);
  CHECK(vector_area(out.mesh).z == Approx(-9 * kPi).epsilon(1e-3));  // its plan, seen from below
  CHECK(says(out.report, "loose part"));
  check_sheet(out.mesh);
}

TEST_CASE("holes are counted and the longest rim measured") {
  Sheet wall = flat_sheet(4, 4, 16, 16);
  std::vector<Triangle> kept;
  for (const Triangle& t : wall.triangles) {
    const Vec3 c = (wall.points[t[0]] + wall.points[t[1]] + wall.points[t[2]]) / 3.0;
    const bool window = c.x > 1 && c.x < 2 && c.z > 1 && c.z<3, chip = c.x> 3 && c.x < 3.25 && c.z > 3 && c.z < 3.25;
    if (!window && !chip) kept.push_back(t);
  }
  wall.triangles = kept;
  const auto out = cleaned(wall);
  CHECK(out.report.holes == 2);
  CHECK(out.report.longest_hole_rim_m == Approx(6));
  CHECK(says(out.report, "2 holes"));
  check_sheet(out.mesh);
}

TEST_CASE("a fin standing on the wall is cut off and the wall kept") {
  Sheet wall = flat_sheet(4, 4, 4, 4);
  Sheet fin = grid_sheet(4, 1, [](double s, double t) { return Vec3{4 * s, -0.5 * t, 2}; });
  append(wall, fin);
  const auto out = cleaned(wall);
  CHECK(out.raw_area_m2 == Approx(16));
  CHECK(out.report.dropped_small_parts == 1);
  CHECK(says(out.report, "more than two triangles"));
  check_sheet(out.mesh);
}

TEST_CASE("two sheets that touch in one point stay two borders") {
  Sheet wall = flat_sheet(2, 2, 4, 4);
  std::vector<Triangle> kept;  // a window whose corner touches the wall's corner region: a pinched border
  for (const Triangle& t : wall.triangles) {
    const Vec3 c = (wall.points[t[0]] + wall.points[t[1]] + wall.points[t[2]]) / 3.0;
    if (!(c.x > 0.5 && c.x < 1 && c.z > 0.5 && c.z < 1) && !(c.x > 1 && c.x < 1.5 && c.z > 1 && c.z < 1.5))
      kept.push_back(t);
  }
  wall.triangles = kept;
  const auto out = cleaned(wall);
  CHECK(out.mesh.points.size() == wall.points.size() + 1);  // the shared corner is now two points
  CHECK(out.report.holes == 1);                             // the two windows have become one slot
  check_sheet(out.mesh);
}

TEST_CASE("a twisted band is cut so that it has a front") {
  const int n = 60;
  Sheet band = grid_sheet(n, 2, [](double s, double t) {
    const double a = 2 * kPi * s, w = t - 0.5;
    return Vec3{(2 + w * std::cos(a / 2)) * std::cos(a), (2 + w * std::cos(a / 2)) * std::sin(a), w * std::sin(a / 2)};
  });
  const auto out = cleaned(band);
  CHECK(out.raw_area_m2 == Approx(sheet_area(band)).epsilon(1e-9));
  CHECK(says(out.report, "twists"));
  check_sheet(out.mesh);
}

TEST_CASE("a closed surface is refused in plain words") {
  Sheet ball = cap_sheet(1, kPi / 2, 8), below = ball;
  for (Vec3& p : below.points) p.z = -p.z;
  for (Triangle& t : below.triangles) std::swap(t[1], t[2]);
  append(ball, below);
  const auto result = clean_scan(ball.points, ball.triangles, "ball", z_up());
  REQUIRE_FALSE(result.ok());
  CHECK(result.problem().message().find("closes on itself") != std::string::npos);
}

TEST_CASE("needles and flat triangles are mended without moving the surface") {
  Sheet wall = flat_sheet(4, 4, 8, 8);
  const auto split = [&](std::size_t t, double w0, double w1) {  // a point almost on an edge, or almost at a corner
    const Triangle old = wall.triangles[t];
    const auto p = static_cast<std::uint32_t>(wall.points.size());
    wall.points.push_back(w0 * wall.points[old[0]] + w1 * wall.points[old[1]] + (1 - w0 - w1) * wall.points[old[2]]);
    wall.triangles[t] = {old[0], old[1], p};
    wall.triangles.push_back({old[1], old[2], p});
    wall.triangles.push_back({old[2], old[0], p});
  };
  split(40, 0.5, 0.5 - 1e-7);
  split(61, 1 - 8e-5, 4e-5);
  split(0, 0.5, 0.5 - 1e-7);  // on the border
  const auto out = cleaned(wall);
  CHECK(out.raw_area_m2 == Approx(16).epsilon(1e-6));
  CHECK(says(out.report, "needle-thin"));
  for (const Triangle& t : out.mesh.triangles) {
    const Vec3 a = out.mesh.points[t[0]], b = out.mesh.points[t[1]], c = out.mesh.points[t[2]];
    const double longest = std::max({glm::length(b - a), glm::length(c - b), glm::length(a - c)});
    CHECK(glm::length(glm::cross(b - a, c - a)) / longest > 4e-6);
  }
  check_sheet(out.mesh);
}

TEST_CASE("the same scan gives the same bytes") {
  Dice dice(11);
  const Sheet rough = shattered(cap_sheet(2, 0.9, 20), 5e-6, dice);
  const auto one = cleaned(rough), two = cleaned(rough);
  CHECK(one.mesh.points == two.mesh.points);
  CHECK(one.mesh.normals == two.mesh.normals);
  CHECK(one.mesh.triangles == two.mesh.triangles);
  CHECK(one.report.says == two.report.says);
}

TEST_CASE("a cancelled scan stops with a problem") {
  Progress progress;
  progress.cancelled = true;
  const Sheet wall = flat_sheet(4, 4, 8, 8);
  CHECK_FALSE(clean_scan(wall.points, wall.triangles, "scan", z_up(), &progress).ok());
}
