// A scan as a wall: what is measured is the surface a plasterer feels, not the scanner's noise.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/chart/charted_wall.h"
#include "engine/chart/parameterise.h"
#include "tests/fixtures/clipping.h"
#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/scans.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

constexpr double kReach = kPi / 9;  // half angle at the centre

// The inside of a cap of R 3 m, 20 degrees about the crown, points every 13 mm, off by up to 2 mm along the radius.
const WallRef& rough_cap() {
  static const WallRef kWall = [] {
    auto sheet = cap_sheet(3, kReach, 80);
    Dice dice(61);
    for (auto& p : sheet.points) p *= 1 + dice.between(-0.002, 0.002) / 3;
    ScanOptions options;
    options.y_up = false;
    auto scan = clean_scan(sheet.points, sheet.triangles, "cap", options).value();
    const auto mesh = std::make_shared<const SurfaceMesh>(std::move(scan.mesh));
    return chart_wall(mesh, parameterise(*mesh, "cap").value(), "cap", true).value();
  }();
  return kWall;
}

}  // namespace

TEST_CASE("the fair area and coat of a rough scan are those of the smooth vault under the noise") {
  const auto& wall = rough_cap();
  const double exact = 2 * kPi * 9 * (1 - std::cos(kReach));  // spherical cap 2 pi R h
  CAPTURE(exact, wall->metric->raw_area(), wall->metric->area());
  CHECK(wall->metric->raw_area() > 1.01 * exact);
  CHECK(wall->metric->area() == Approx(exact).epsilon(1e-3));
  const auto sums = rim(*wall, wall->chart->border_rings()[0]);
  CHECK(std::abs(sums.area_m2 - wall->metric->area()) < 1e-9);
  // Shell of 15 mm: area factor 1 - t/R + t^2/3R^2 of the sphere's area times thickness.
  CHECK(coat_volume(sums.area_m2, sums.bend_m, sums.gauss, 0.015) ==
        Approx(exact * (3 * 3 * 3 - std::pow(2.985, 3)) / 27).epsilon(1e-3));
}

TEST_CASE("lengths on a rough scan are those of the smooth vault too") {
  const auto& rough = rough_cap();
  double ratio = 0, raw_ratio = 0;
  for (const double turn : {0.0, 1.0, 2.0}) {
    // From two places near the rim through the crown, brought to the wall: an arc of 36 degrees of the circle of R 3 m.
    const auto at = [&](double theta) {
      return to_lattice(
          rough
              ->address(3.0 * Vec3{std::sin(theta) * std::cos(turn), std::sin(theta) * std::sin(turn), std::cos(theta)})
              .place);
    };
    double length = 0, raw = 0;
    constexpr int n = 40;  // the arc's places, so that the chart's straight lines keep near it
    for (int i = 0; i < n; ++i) {
      const auto a = at(kPi / 10 * (2.0 * i / n - 1)), b = at(kPi / 10 * (2.0 * (i + 1) / n - 1));
      length += rough->metric->measure(a, b).length_m;
      const auto line = rough->metric->trace(a, b);
      for (std::size_t k = 1; k < line.size(); ++k)
        raw += glm::length(position(rough->mesh(), line[k]) - position(rough->mesh(), line[k - 1]));
    }
    ratio += length / (3 * kPi / 5) / 3, raw_ratio += raw / (3 * kPi / 5) / 3;
  }
  CHECK(ratio == Approx(1).epsilon(2e-3));
  CHECK(raw_ratio > 1 + 2 * std::abs(ratio - 1));
}

TEST_CASE("rims on a scan's computed chart sum to the area by clipping") {
  const auto& wall = rough_cap();
  const auto box = wall->chart->box();
  Dice dice(62);
  for (int i = 0; i < 10; ++i) {
    Ring ring;
    while (ring.size() < 7) {
      const auto p = to_lattice({dice.between(0, box.width), dice.between(0, box.height)});
      if (wall->chart->triangle_at(p)) ring.push_back(p);
    }
    const auto sums = rim(*wall, ring);
    const auto clipped = clipped_terms(*wall, ring);
    REQUIRE(std::abs(sums.area_m2 - clipped.area) < 1e-9 * sums.length_m);
    REQUIRE(std::abs(sums.bend_m - clipped.bend) < 1e-9 * sums.length_m);
    REQUIRE(std::abs(sums.gauss - clipped.gauss) < 1e-9 * sums.length_m);
  }
}

TEST_CASE("a scan file becomes a wall with its report, and a file that is none a refusal") {
  const TestFolder folder;
  const auto sheet = y_up(flat_sheet(2, 1.5, 40, 30));
  const auto path = write_glb(folder.file("wall.glb"), {{sheet.points, sheet.triangles, {}, {}, {}, {}, {}}});
  const auto wall = build_wall(path, ScanOptions{}, "scan");
  REQUIRE(wall.ok());
  CHECK((*wall)->metric->area() == Approx(3).epsilon(1e-6));
  CHECK((*wall)->scan->triangles_read == 2400);
  CHECK((*wall)->chart->stretch().least == Approx(1).epsilon(1e-3));
  CHECK((*wall)->chart->box().height == Approx(1.5).epsilon(1e-3));  // v is up
  const auto address = (*wall)->address({0.5, 0, 0.3});
  CHECK(address.distance < 1e-6);
  CHECK(std::hypot(address.place.u - 0.5, address.place.v - 0.3) < 1e-3);
  const auto refused = build_wall(write_bytes(folder.file("bad.glb"), {1, 2, 3}), ScanOptions{}, "scan");
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.problem().message().find("bad.glb") != std::string::npos);
}
