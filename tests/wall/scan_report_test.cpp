// Every fault that intake mends is told in one plain line.
#include "tests/wall/scan_checks.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// The lines of the report that hold these words.
std::size_t lines_with(const ScanSurface& scan, const std::string& words) {
  std::size_t n = 0;
  for (const auto& line : scan.report.says) n += line.find(words) != std::string::npos;
  return n;
}

}  // namespace

TEST_CASE("a sound scan has nothing to tell") { CHECK(cleaned(flat_sheet(4, 3, 8, 6)).report.says.empty()); }

TEST_CASE("doubled points, empty and doubled triangles each have their line and count") {
  Sheet sheet = flat_sheet(4, 3, 8, 6);
  sheet.points.push_back(sheet.points[5] + Vec3{5e-6, 0, 0});
  for (auto& corner : sheet.triangles[4])
    if (corner == 5) corner = static_cast<std::uint32_t>(sheet.points.size() - 1);
  sheet.triangles.push_back({7, 7, 8});
  sheet.triangles.push_back(sheet.triangles[0]);
  const auto scan = cleaned(sheet);
  CHECK(lines_with(scan, "1 doubled point closer than 0.0100 mm joined") == 1);
  CHECK(lines_with(scan, "1 triangle without area left out") == 1);
  CHECK(lines_with(scan, "1 triangle given twice left out") == 1);
  CHECK(scan.report.says.size() == 3);
}

TEST_CASE("turned triangles have their line") {
  Sheet sheet = flat_sheet(4, 3, 8, 6);
  std::swap(sheet.triangles[9][0], sheet.triangles[9][1]);
  const auto scan = cleaned(sheet);
  CHECK(scan.report.flipped == 1);
  CHECK(lines_with(scan, "1 triangle turned to face the painter with the rest") == 1);
}

TEST_CASE("an edge where three triangles meet, and the part that falls off it, have their lines") {
  Sheet wall = flat_sheet(4, 4, 4, 4);
  append(wall, grid_sheet(4, 1, [](double s, double t) { return Vec3{4 * s, -0.5 * t, 2}; }));
  const auto scan = cleaned(wall);
  CHECK(lines_with(scan, "more than two triangles met") == 1);
  CHECK(lines_with(scan, "1 loose part (2.00 m² in all) left out") == 1);
}

TEST_CASE("every hole has its line, up to a dozen") {
  Sheet wall = flat_sheet(4, 4, 40, 40);
  std::erase_if(wall.triangles, [&](const Triangle& t) {
    const Vec3 c = (wall.points[t[0]] + wall.points[t[1]] + wall.points[t[2]]) / 3.0;
    return static_cast<int>(c.x * 10) % 10 == 3 && static_cast<int>(c.z * 10) % 10 == 3;
  });
  const auto scan = cleaned(wall);
  CHECK(scan.report.holes == 16);
  CHECK(scan.report.hole_list.size() == 16);
  CHECK(lines_with(scan, "hole ") == 12);
  CHECK(lines_with(scan, "and 4 holes smaller") == 1);
  CHECK(scan.report.raw_area_m2 == scan.raw_area_m2);
}
