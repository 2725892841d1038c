#include "engine/chart/parameterise.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <memory>
#include <numbers>

#include "engine/base/parallel.h"
#include "engine/chart/chart.h"
#include "engine/wall/scan.h"
#include "tests/fixtures/scans.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

SurfaceMesh mesh_of(const Sheet& sheet) {
  SurfaceMesh mesh;
  mesh.points = sheet.points;
  mesh.triangles = mesh.corner_normals = sheet.triangles;
  mesh.normals = smoothed_normals(sheet.points, sheet.triangles, 0);
  return mesh;
}

std::vector<Vec2> laid(const SurfaceMesh& mesh, const ParameteriseOptions& options = {}) {
  auto result = parameterise(mesh, "scan", options);
  INFO((result ? std::string() : result.problem().message()));
  REQUIRE(result.ok());
  REQUIRE(result->size() == mesh.points.size());
  const auto chart = Chart::certify(std::make_shared<const SurfaceMesh>(mesh), *result, "scan");
  INFO((chart ? std::string() : chart.problem().message()));
  REQUIRE(chart.ok());
  return std::move(*result);
}

// Least and greatest scale of chart lengths against surface lengths over all triangles, and their area means.
struct Scales {
  double least = 1e300, greatest = 0, mean_area = 0;
};
Scales scales(const SurfaceMesh& mesh, const std::vector<Vec2>& places) {
  Scales out;
  double area = 0, chart_area = 0;
  for (const Triangle& t : mesh.triangles) {
    const Vec3 e = mesh.points[t[1]] - mesh.points[t[0]], f = mesh.points[t[2]] - mesh.points[t[0]];
    const double length = glm::length(e), x = glm::dot(f, e) / length, y = glm::length(glm::cross(e, f)) / length;
    const Vec2 a = places[t[1]] - places[t[0]], b = places[t[2]] - places[t[0]];
    const Vec2 ju = a / length, jv = (b - a * (x / length)) / y;
    const double half = 0.5 * (glm::dot(ju, ju) + glm::dot(jv, jv)), det = cross2(ju, jv);
    const double root = std::sqrt(std::max(0.0, half * half - det * det));
    out.greatest = std::max(out.greatest, std::sqrt(half + root));
    out.least = std::min(out.least, det / std::sqrt(half + root));
    area += 0.5 * length * y;
    chart_area += 0.5 * cross2(a, b);
  }
  out.mean_area = chart_area / area;
  return out;
}

Sheet without(const Sheet& sheet, const std::function<bool(const Vec3&)>& gone) {
  Sheet out = sheet;
  out.triangles.clear();
  for (const Triangle& t : sheet.triangles)
    if (!gone((sheet.points[t[0]] + sheet.points[t[1]] + sheet.points[t[2]]) / 3.0)) out.triangles.push_back(t);
  return out;
}

// Through intake, which drops unused points.
SurfaceMesh scanned(const Sheet& sheet) {
  ScanOptions options;
  options.y_up = false;
  auto scan = clean_scan(sheet.points, sheet.triangles, "scan", options);
  INFO((scan ? std::string() : scan.problem().message()));
  REQUIRE(scan.ok());
  return std::move(scan->mesh);
}

std::string refusal(const Sheet& sheet) {
  const auto result = parameterise(mesh_of(sheet), "scan");
  REQUIRE_FALSE(result.ok());
  CHECK_FALSE(result.problem().remedy.empty());
  return result.problem().message();
}

}  // namespace

TEST_CASE("a flat wall is laid out as itself, upright and not mirrored") {
  const SurfaceMesh wall = mesh_of(flat_sheet(4, 3, 40, 30));
  const auto places = laid(wall);
  for (std::size_t i = 0; i < places.size(); ++i) {
    CHECK(places[i].x - places[0].x == Approx(wall.points[i].x).margin(1e-4));
    CHECK(places[i].y - places[0].y == Approx(wall.points[i].z).margin(1e-4));
  }
}

TEST_CASE("a half cylinder unrolls without stretch, whichever way it stands") {
  for (const bool lying : {false, true}) {
    const Sheet barrel = grid_sheet(60, 80, [&](double s, double t) {
      const double a = lying ? kPi * t : kPi * (1 - s), r = 2;
      return lying ? Vec3{5 * s, r * std::cos(a), r * std::sin(a)} : Vec3{r * std::cos(a), r * std::sin(a), 5 * t};
    });
    const SurfaceMesh mesh = mesh_of(barrel);
    const auto places = laid(mesh);
    const Scales s = scales(mesh, places);
    CHECK(s.least > 0.999);
    CHECK(s.greatest < 1.001);
  }
}

TEST_CASE("a standing wall has its height along v") {
  const Sheet drum = grid_sheet(60, 40, [](double s, double t) {
    return Vec3{-2 * std::cos(kPi * s), 2 * std::sin(kPi * s), 3 * t};  // DEVELOPERS.md: drum
  });
  const SurfaceMesh mesh = mesh_of(drum);
  const auto places = laid(mesh);
  for (std::size_t i = 0; i < places.size(); ++i)
    CHECK(places[i].y - places[0].y == Approx(mesh.points[i].z).margin(2e-3));
  CHECK(places[60].x > places[0].x);
}

TEST_CASE("a dome's stretch is no less than any flat map must have, and not much more") {
  // Milnor, "A problem in cartography", 1969: largest to smallest scale >= a / sin a (from memory).
  for (const double half_angle : {0.3, 0.6, 0.9}) {
    const SurfaceMesh mesh = mesh_of(cap_sheet(3, half_angle, 40));
    const Scales s = scales(mesh, laid(mesh));
    const double bound = half_angle / std::sin(half_angle);
    CHECK(s.greatest / s.least > bound * 0.995);  // the triangles' chords are a little flatter than the sphere
    CHECK(s.greatest / s.least < 1 + 2 * (bound - 1));
    CHECK(s.mean_area == Approx(1).epsilon(0.02));
  }
}

TEST_CASE("a dome is laid out as seen from below") {
  const SurfaceMesh mesh = mesh_of(cap_sheet(3, 0.5, 20));
  const auto places = laid(mesh);
  double along_x = 0, along_y = 0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    along_x += (places[i].x - places[0].x) * mesh.points[i].x;
    along_y += (places[i].y - places[0].y) * mesh.points[i].y;
  }
  CHECK(along_x > 0);
  CHECK(along_y < 0);
}

TEST_CASE("a rough relief keeps its size") {
  Dice dice(2);
  const Sheet relief = grid_sheet(120, 90, [&](double s, double t) {
    return Vec3{4 * s, 0.05 * std::sin(9 * s) * std::cos(7 * t) + dice.between(-0.002, 0.002), 3 * t};
  });
  const SurfaceMesh mesh = mesh_of(relief);
  const auto places = laid(mesh);
  const Scales s = scales(mesh, places);
  CHECK(s.mean_area == Approx(1).epsilon(0.01));
  CHECK(s.least > 0.85);
  CHECK(s.greatest < 1.15);
}

TEST_CASE("windows, narrow slots and angled openings stay open and cost no stretch") {
  const Sheet wall = flat_sheet(4, 4, 64, 64);
  const SurfaceMesh mesh = scanned(without(wall, [](const Vec3& c) {
    const bool window = c.x > 0.5 && c.x < 1.5 && c.z > 0.5 && c.z < 2.5;
    const bool angled = c.x > 2 && c.x < 3.5 && c.z > 2 && c.z < 3.5 && !(c.x > 2.25 && c.z > 2.25);
    const bool slot = c.x > 2 && c.x < 3.5 && c.z > 1 && c.z < 1.0625;
    return window || angled || slot;
  }));
  const Scales s = scales(mesh, laid(mesh));
  CHECK(s.least > 0.99);
  CHECK(s.greatest < 1.01);
}

TEST_CASE("openings in a vault leave it certified") {
  const Sheet vault = grid_sheet(60, 60, [](double s, double t) {
    return Vec3{5 * s, -2 * std::cos(kPi * t), 2 * std::sin(kPi * t) + 0.3 * std::sin(kPi * s)};
  });
  const SurfaceMesh mesh = scanned(without(vault, [](const Vec3& c) {
    return std::hypot(c.x - 2.5, c.y) < 0.4 || (c.x > 1 && c.x < 1.4 && c.y > 1 && c.z > 0.5);
  }));
  const Scales s = scales(mesh, laid(mesh));
  CHECK(s.least > 0.8);
  CHECK(s.greatest < 1.25);
}

TEST_CASE("sheets with no point inside, ears and a single triangle are laid out too") {
  const SurfaceMesh strip = mesh_of(flat_sheet(4, 0.5, 8, 1));
  CHECK(scales(strip, laid(strip)).least > 0.999);
  const SurfaceMesh one = mesh_of({{{0, 0, 0}, {2, 0, 0}, {0, 0, 1}}, {{0, 1, 2}}});
  CHECK(scales(one, laid(one)).greatest < 1.001);
  Sheet ears = flat_sheet(1, 1, 1, 1);
  ears.points.push_back({1.5, 0, 0.5});
  ears.points.push_back({-0.5, 0, 0.5});
  ears.triangles.push_back({1, 4, 3});
  ears.triangles.push_back({0, 2, 5});
  std::swap(ears.triangles.back()[0], ears.triangles.back()[1]);
  std::swap(ears.triangles.back()[1], ears.triangles.back()[2]);
  const SurfaceMesh eared = scanned(ears);
  CHECK(scales(eared, laid(eared)).least > 0.999);
}

TEST_CASE("nearly closed and deeply folded surfaces still get a chart without folds") {
  const SurfaceMesh ball = mesh_of(cap_sheet(1, 2.7, 40));  // all of a ball but a seventh of its radius
  laid(ball);
  const Sheet horn = grid_sheet(70, 70, [](double s, double t) {
    const double r2 = (s - 0.5) * (s - 0.5) + (t - 0.5) * (t - 0.5);
    return Vec3{2 * s, -1.5 * std::exp(-60 * r2), 2 * t};  // a horn 1.5 m long on a 2 m wall
  });
  laid(mesh_of(horn));
}

TEST_CASE("a surface above the limit is thinned for the solve, and every point keeps a place of its own") {
  const Sheet barrel = grid_sheet(120, 120, [](double s, double t) {
    return Vec3{5 * s, -2 * std::cos(kPi * t), 2 * std::sin(kPi * t)};
  });
  const SurfaceMesh mesh = mesh_of(barrel);
  ParameteriseOptions options;
  options.solve_limit = 2000;
  const auto places = laid(mesh, options);
  const Scales s = scales(mesh, places);
  CHECK(s.least > 0.98);
  CHECK(s.greatest < 1.02);
}

TEST_CASE("the same surface is laid out to the same bytes") {
  Dice dice(9);
  const SurfaceMesh mesh = mesh_of(grid_sheet(100, 100, [&](double s, double t) {
    return Vec3{3 * s, dice.between(-0.01, 0.01), 3 * t};
  }));
  CHECK(laid(mesh) == laid(mesh));
}

TEST_CASE("the same bytes come out whatever the number of workers") {
  Dice dice(10);
  Sheet rough = without(flat_sheet(4, 4, 110, 110), [](const Vec3& c) { return std::hypot(c.x - 2, c.z - 2) < 0.5; });
  for (Vec3& p : rough.points) p.y += dice.between(-0.003, 0.003);
  const SurfaceMesh mesh = scanned(rough);
  const auto places = laid(mesh);
  const auto normals = smoothed_normals(mesh.points, mesh.triangles, 0.06);
  const WorkerLimit alone(1);
  CHECK(laid(mesh) == places);
  CHECK(smoothed_normals(mesh.points, mesh.triangles, 0.06) == normals);
}

TEST_CASE("the saw-toothed rims that a fine scan's windows have cost no stretch") {
  Dice dice(11);
  const auto away = [](double x) { return std::abs(x - 2 * std::round((x - 1) / 2) - 1); };
  Sheet wall =
      without(flat_sheet(4, 4, 260, 260), [&](const Vec3& c) { return away(c.x) < 0.301 && away(c.z) < 0.402; });
  for (Vec3& p : wall.points) p += 1e-3 * Vec3{dice.between(-1, 1), dice.between(-1, 1), dice.between(-1, 1)};
  const SurfaceMesh mesh = scanned(wall);
  const Scales s = scales(mesh, laid(mesh));
  CHECK(s.least > 0.5);
  CHECK(s.greatest < 2);
  CHECK(s.mean_area == Approx(1).epsilon(0.005));
}

TEST_CASE("closed surfaces, several parts, branches and bridges are refused with a place") {
  Sheet ball = cap_sheet(1, kPi / 2, 8), below = ball;
  for (Vec3& p : below.points) p.z = -p.z;
  const auto top = static_cast<std::uint32_t>(ball.points.size());
  for (Triangle& t : below.triangles) std::swap(t[1], t[2]);
  append(ball, below);
  for (Triangle& t : ball.triangles)  // sew the two halves along the equator
    for (auto& c : t)
      if (c >= top && ball.points[c].z > -1e-9) c -= top;
  CHECK(refusal(ball).find("closes on itself") != std::string::npos);

  Sheet two = flat_sheet(1, 1, 2, 2), other = two;
  for (Vec3& p : other.points) p.x += 3;
  append(two, other);
  CHECK(refusal(two).find("separate parts") != std::string::npos);

  Sheet branch = flat_sheet(1, 1, 1, 1);
  branch.points.push_back({0.5, 1, 0.5});
  branch.triangles.push_back({0, 3, 4});
  CHECK(refusal(branch).find("near") != std::string::npos);

  // A torus with one patch taken out: one handle, one rim.
  const int n = 24, m = 12;
  Sheet torus;
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < m; ++j) {
      const double a = 2 * kPi * i / n, b = 2 * kPi * j / m, r = 2 + 0.7 * std::cos(b);
      torus.points.push_back({r * std::cos(a), r * std::sin(a), 0.7 * std::sin(b)});
    }
  const auto at = [&](int i, int j) { return static_cast<std::uint32_t>((i % n) * m + j % m); };
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < m; ++j) {
      if (i == 3 && j == 3) continue;
      torus.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
      torus.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
    }
  const std::string message = refusal(torus);
  CHECK(message.find("bridge") != std::string::npos);
  CHECK(message.find("near") != std::string::npos);
  CHECK(refusal({}).find("no surface") != std::string::npos);
}

TEST_CASE("a small bridge of scanner's noise is cut open by intake and then laid out") {
  // A wall with two small windows joined by a tube in front of it: one handle.
  const int n = 40;
  Sheet wall = without(flat_sheet(4, 4, n, n), [](const Vec3& c) {
    return std::abs(c.z - 2.05) < 0.05 && (std::abs(c.x - 1.85) < 0.05 || std::abs(c.x - 2.15) < 0.05);
  });
  const auto at = [&](int i, int j) { return static_cast<std::uint32_t>(j * (n + 1) + i); };
  // Squares at columns 18 and 21, row 20; the tube runs from one rim to the other.
  const std::array<std::uint32_t, 4> left{at(18, 20), at(19, 20), at(19, 21), at(18, 21)};
  const std::array<std::uint32_t, 4> right{at(22, 20), at(21, 20), at(21, 21), at(22, 21)};
  std::array<std::uint32_t, 4> middle{};
  for (std::size_t k = 0; k < 4; ++k) {
    middle[k] = static_cast<std::uint32_t>(wall.points.size());
    const Vec3 p = 0.5 * (wall.points[left[k]] + wall.points[right[k]]);
    wall.points.push_back(p + Vec3{0, k == 0 || k == 3 ? -0.3 : -0.15, 0});
  }
  const auto sleeve = [&](const std::array<std::uint32_t, 4>& a, const std::array<std::uint32_t, 4>& b) {
    for (std::size_t k = 0; k < 4; ++k) {
      wall.triangles.push_back({a[k], a[(k + 1) % 4], b[(k + 1) % 4]});
      wall.triangles.push_back({a[k], b[(k + 1) % 4], b[k]});
    }
  };
  sleeve(left, middle);
  sleeve(middle, right);
  ScanOptions options;
  options.y_up = false;
  auto scan = clean_scan(wall.points, wall.triangles, "scan", options);
  REQUIRE(scan.ok());
  CHECK(scan->raw_area_m2 == Approx(sheet_area(wall)).epsilon(1e-9));
  CHECK(std::any_of(scan->report.says.begin(), scan->report.says.end(),
                    [](const std::string& line) { return line.find("1 small bridge") != std::string::npos; }));
  laid(scan->mesh);
}

TEST_CASE("a cancelled layout stops with a problem") {
  Progress progress;
  progress.cancelled = true;
  CHECK_FALSE(parameterise(mesh_of(flat_sheet(4, 3, 40, 30)), "scan", {}, &progress).ok());
}
