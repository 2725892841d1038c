// What the painter decides when a scan is taken in: the box, the part, the scale, the axes.
#include "tests/wall/scan_checks.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

std::string refused(Sheet sheet, const ScanOptions& options) {
  const auto result = clean_scan(std::move(sheet.points), std::move(sheet.triangles), "scan", options);
  REQUIRE_FALSE(result.ok());
  return result.problem().message();
}

Sheet two_walls(double apart = 5) {  // 12 m2 and 2 m2
  Sheet sheet = flat_sheet(4, 3, 8, 6), other = flat_sheet(2, 1, 4, 2);
  for (Vec3& p : other.points) p.x += apart;
  append(sheet, other);
  return sheet;
}

}  // namespace

TEST_CASE("crop cuts exactly at the box, wherever the triangles lie") {
  ScanOptions options = z_up();
  options.crop = ScanOptions::Box{{0.33, -1, 0.21}, {2.71, 1, 2.9}};
  const auto scan = cleaned(flat_sheet(4, 3, 7, 5), options);
  CHECK(scan.raw_area_m2 == Approx((2.71 - 0.33) * (2.9 - 0.21)).epsilon(1e-12));
  Vec3 low(1e300), high(-1e300);
  for (const Vec3& p : scan.mesh.points) low = glm::min(low, p), high = glm::max(high, p);
  CHECK(low.x == 0.33);
  CHECK(high.x == 2.71);
  CHECK(low.z == 0.21);
  CHECK(high.z == 2.9);
  CHECK(scan.report.holes == 0);
  CHECK(says(scan.report, "cut to the box"));
  CHECK(says(scan.report, "5.60 m² outside"));  // 12 - 2.38 * 2.69
  check_sheet(scan.mesh);
}

TEST_CASE("a cropped dome keeps the area of the spherical zone, and one rim") {
  // Closed form of a zone, 2 pi R h: the cap of R = 5, h = 1, without its upper 0.25 m: two rims, one of them a hole.
  ScanOptions options = z_up();
  options.crop = ScanOptions::Box{{-10, -10, 4}, {10, 10, 4.75}};
  const auto scan = cleaned(cap_sheet(5, std::asin(3.0 / 5.0), 60), options);
  CHECK(scan.raw_area_m2 == Approx(2 * std::numbers::pi * 5 * 0.75).epsilon(1e-3));
  CHECK(scan.report.holes == 1);
  check_sheet(scan.mesh);
}

TEST_CASE("the box stands in the scan's own frame, before the scan is placed, after unit and scale") {
  ScanOptions options = z_up();
  options.unit_m = 0.01;
  options.scale = 2;
  options.placement = {{10, 20, 30}, 90};
  options.crop = ScanOptions::Box{{0, -1, 0}, {1, 1, 3}};
  const auto scan = cleaned(flat_sheet(200, 150, 4, 3), options);  // 4 by 3 m
  CHECK(scan.raw_area_m2 == Approx(3));
  double most = 0;
  for (const Vec3& p : scan.mesh.points) most = std::max(most, p.y);
  CHECK(most == Approx(21));  // own x goes along the building's y after a quarter turn
}

TEST_CASE("two triangles share the new points of their shared edge, also in a scan without shared corners") {
  Dice dice(3);
  ScanOptions options = z_up();
  options.crop = ScanOptions::Box{{0.4, -1, 0.3}, {3.1, 1, 2.2}};
  const auto scan = cleaned(shattered(flat_sheet(4, 3, 13, 9), 4e-6, dice), options);
  CHECK(scan.raw_area_m2 == Approx(2.7 * 1.9).epsilon(1e-5));
  CHECK(scan.report.holes == 0);
  CHECK(scan.report.dropped_small_parts == 0);
  check_sheet(scan.mesh);
}

TEST_CASE("a box beside the scan is refused and tells where the scan is") {
  ScanOptions options = z_up();
  options.crop = ScanOptions::Box{{10, 10, 10}, {11, 11, 11}};
  options.placement = {{20, 0, 0}, 90};  // the box is asked for, and told of, in the scan's own frame
  const std::string message = refused(flat_sheet(4, 3, 4, 3), options);
  CHECK(message.find("10.000, 10.000, 10.000") != std::string::npos);
  CHECK(message.find("4.000, 0.000, 3.000") != std::string::npos);
}

TEST_CASE("crop takes a scan of more than 500 m whose wall is of a sensible size") {
  ScanOptions options = z_up();
  CHECK(refused(flat_sheet(800, 3, 100, 4), options).find("800.00 m wide") != std::string::npos);
  options.crop = ScanOptions::Box{{100, -1, 0}, {104, 1, 3}};
  CHECK(cleaned(flat_sheet(800, 3, 100, 4), options).raw_area_m2 == Approx(12));
}

TEST_CASE("the largest part is the wall unless another is named by a place on it") {
  const auto largest = cleaned(two_walls());
  CHECK(largest.raw_area_m2 == Approx(12));
  CHECK(largest.report.dropped_small_parts == 1);
  REQUIRE(largest.report.parts.size() == 2);
  CHECK(largest.report.parts[0].area_m2 == Approx(12));
  CHECK(largest.report.parts[1].area_m2 == Approx(2));
  CHECK(says(largest.report, "12.00 m² at"));
  ScanOptions options = z_up();
  options.part_at = largest.report.parts[1].at;
  const auto other = cleaned(two_walls(), options);
  CHECK(other.raw_area_m2 == Approx(2));
  CHECK(says(other.report, "the connected part nearest to"));
  options.part_at = Vec3{-3, 1, 1};  // beside the first
  CHECK(cleaned(two_walls(), options).raw_area_m2 == Approx(12));
}

TEST_CASE("a part named by a place is found after placing, too") {
  ScanOptions options = z_up();
  options.placement = {{100, 0, 0}, 180};
  options.part_at = Vec3{100 - 6, 0, 0.5};
  CHECK(cleaned(two_walls(), options).raw_area_m2 == Approx(2));
}

TEST_CASE("parts of nearly the same size ask the painter") {
  Sheet sheet = flat_sheet(4, 3, 4, 3), other = flat_sheet(4, 2, 4, 2);
  for (Vec3& p : other.points) p.x += 6;
  append(sheet, other);
  CHECK(says(cleaned(sheet).report, "--part"));
  CHECK_FALSE(says(cleaned(two_walls()).report, "--part"));
}

TEST_CASE("a known scale multiplies every length and is told") {
  ScanOptions options = z_up();
  options.scale = 1.5;
  const auto scan = cleaned(flat_sheet(2, 1, 4, 2), options);
  CHECK(scan.raw_area_m2 == Approx(2 * 2.25));
  CHECK(says(scan.report, "scaled by 1.5000"));
  for (const double bad : {0.0, -1.0, std::nan("")}) {
    options.scale = bad;
    CHECK(refused(flat_sheet(2, 1, 4, 2), options).find("scale") != std::string::npos);
  }
}
