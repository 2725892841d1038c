// Meshes that no one here made, as they are, whole: each goes through the real readers and ends in a certified chart or
// in one plain sentence that names the place. Their sources and licences are listed in REAL_MESHES.md.
#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <memory>
#include <regex>

#include "engine/chart/charted_wall.h"
#include "engine/wall/scan_files.h"
#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/mesh_files.h"
#include "tests/fixtures/plain_scans.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// Of Debian's libcgal-demo; chosen for faults and shapes of all kinds, and for running within seconds together.
constexpr const char* kMeshes[]{"mesh_with_border",
                                "three_peaks",
                                "patch-01",
                                "patch-30",
                                "helmet",
                                "nefertiti",
                                "mask_cone",
                                "head",
                                "blobby_3cc",
                                "elephant-with-holes",
                                "cylinder",
                                "boeing",
                                "triceratops",
                                "cow",
                                "ALSTOM_TEST4",
                                "rotor_small",
                                "u"};

// One plain sentence: one line, the file's name or the wall's, a place as three numbers.
void check_refusal(const Problem& problem) {
  const std::string message = problem.message();
  INFO(message);
  CHECK(message.find('\n') == std::string::npos);
  CHECK_FALSE(problem.remedy.empty());
  CHECK(std::regex_search(message, std::regex(R"(-?\d+\.\d{3}, -?\d+\.\d{3}, -?\d+\.\d{3})")));
}

// The chart is certified by build_wall; what it tells of the surface must hold.
void check_chart(const ChartedWall& wall, const Sheet& sheet) {
  const double whole = sheet_area(sheet);
  CHECK(wall.metric->raw_area() > 0);
  CHECK(wall.metric->raw_area() < whole * (1 + 1e-3));  // at most what the file holds: intake adds nothing unasked
  double left_out = 0;
  for (const auto& part : wall.scan->parts) left_out += part.area_m2;
  CHECK(left_out == Approx(whole).epsilon(0.01));  // every part is accounted for (doubled faces aside)
  CHECK(wall.chart->stretch().least > 0);
}

std::string as_file(const TestFolder& folder, const std::string& name, const Sheet& sheet, PlainKind kind) {
  const std::string path = folder.file(name + ending(kind)), bytes = plain_bytes(sheet, kind);
  return write_bytes(path, {bytes.begin(), bytes.end()});
}

void take_all_the_way(const std::string& name, const Sheet& sheet, PlainKind kind) {
  const TestFolder folder;
  ScanOptions options;
  options.y_up = false;
  const auto wall = build_wall(as_file(folder, name, sheet, kind), options, name);
  if (!wall) {
    WARN(fmt::format("{} ({} triangles): {}", name, sheet.triangles.size(), wall.problem().what));
    return check_refusal(wall.problem());
  }
  WARN(fmt::format("{} ({} triangles): {:.3f} m2, stretch {:.3f} to {:.3f}; {} holes, {} lines of mending", name,
                   sheet.triangles.size(), (*wall)->metric->raw_area(), (*wall)->chart->stretch().least,
                   (*wall)->chart->stretch().greatest, (*wall)->scan->holes, (*wall)->scan->says.size()));
  check_chart(**wall, sheet);
}

}  // namespace

TEST_CASE("real meshes end in a chart or in one sentence that names the place") {
  int there = 0;
  for (const std::string name : kMeshes) {
    const Sheet sheet = scaled_to(read_demo_mesh(name + ".off"), 4);
    if (sheet.triangles.empty()) {
      WARN("skipped: libcgal-demo's " << name << ".off is not installed");
      continue;
    }
    INFO(name);
    take_all_the_way(name, sheet, kPlainKinds[static_cast<std::size_t>(there++) % std::size(kPlainKinds)]);
  }
}

TEST_CASE("STL and PLY files of others are read as they are") {
  const TestFolder folder;
  for (const std::string name : {"pig.stl", "sphere.stl", "b9.ply", "sphere.ply", "colored_tetra.ply"}) {
    const std::string bytes = demo_file(name);
    if (bytes.empty()) {
      WARN("skipped: libcgal-demo's " << name << " is not installed");
      continue;
    }
    INFO(name);
    const std::string path = write_bytes(folder.file(name), {bytes.begin(), bytes.end()});
    const auto raw = read_any(path);
    if (name == "b9.ply") {  // a cloud of points
      REQUIRE_FALSE(raw.ok());
      CHECK(raw.problem().message().find("loose points") != std::string::npos);
      continue;
    }
    INFO((raw ? std::string() : raw.problem().message()));
    REQUIRE(raw.ok());
    CHECK(raw->triangles.size() >= 4);
    ScanOptions options;
    options.y_up = false;
    const auto wall = build_wall(path, options, name);
    WARN(fmt::format("{}: {}", name, wall ? "charted" : wall.problem().what));
    if (!wall) check_refusal(wall.problem());
  }
}
