// What the tests of scan intake have in common: taking a scan in, refusing one, and what a clean sheet is.
#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <set>
#include <string>

#include "engine/wall/scan.h"
#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/scans.h"

namespace pontata::fixtures {

inline ScanOptions z_up() {
  ScanOptions options;
  options.y_up = false;
  return options;
}

inline ScanSurface cleaned(Sheet sheet, const ScanOptions& options = z_up()) {
  auto result = clean_scan(std::move(sheet.points), std::move(sheet.triangles), "scan", options);
  INFO((result ? std::string() : result.problem().message()));
  REQUIRE(result.ok());
  return std::move(*result);
}

inline ScanSurface scanned(const std::string& path, const ScanOptions& options = {}) {
  auto result = read_scan(path, options);
  INFO((result ? std::string() : result.problem().message()));
  REQUIRE(result.ok());
  return std::move(*result);
}

inline std::string refusal(const std::string& path, const ScanOptions& options = {}) {
  const auto result = read_scan(path, options);
  REQUIRE_FALSE(result.ok());
  CHECK(result.problem().where.find(path) != std::string::npos);
  CHECK_FALSE(result.problem().remedy.empty());
  return result.problem().message();
}

inline bool says(const ScanReport& report, const std::string& words) {
  return std::any_of(report.says.begin(), report.says.end(),
                     [&](const std::string& line) { return line.find(words) != std::string::npos; });
}

inline Vec3 vector_area(const SurfaceMesh& mesh) {
  Vec3 sum{0, 0, 0};
  for (const Triangle& t : mesh.triangles)
    sum += 0.5 * glm::cross(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]);
  return sum;
}

// Every edge in one or two triangles, in opposite directions; every border point on one border edge in and one out.
inline void check_sheet(const SurfaceMesh& mesh) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> directed;
  std::vector<int> out(mesh.points.size(), 0);
  for (const Triangle& t : mesh.triangles)
    for (std::size_t k = 0; k < 3; ++k) ++directed[{t[k], t[(k + 1) % 3]}];
  for (const auto& [edge, count] : directed) {
    CHECK(count == 1);
    if (!directed.contains({edge.second, edge.first})) ++out[edge.first];
  }
  CHECK(*std::max_element(out.begin(), out.end()) == 1);
  std::set<std::uint32_t> used;
  for (const Triangle& t : mesh.triangles) used.insert(t.begin(), t.end());
  CHECK(used.size() == mesh.points.size());
  REQUIRE(mesh.normals.size() == mesh.points.size());
  for (const Vec3& n : mesh.normals) CHECK(std::abs(glm::length(n) - 1) < 1e-9);
}

inline GlbMesh glb_mesh(const Sheet& sheet) {
  GlbMesh mesh;
  mesh.points = sheet.points;
  mesh.triangles = sheet.triangles;
  return mesh;
}

}  // namespace pontata::fixtures
