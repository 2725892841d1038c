// Real scanned surfaces that are not ours, through intake, layout and the chart's certificate.
// Sources: ../shared/data beside the project ("Mountain" by lastloginname and "Pizza" by Rigsters, CC BY 4.0, from
// odedstein-meshes); the meshes of Debian's package libcgal-demo.
#include "engine/wall/scan.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <memory>

#include "engine/chart/chart.h"
#include "engine/chart/metric.h"
#include "engine/chart/parameterise.h"
#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/mesh_files.h"
#include "tests/fixtures/places.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

struct Laid {
  ScanSurface scan;
  std::shared_ptr<const Chart> chart;
  double fair = 0, raw = 0;  // m^2
};

// Writes the sheet as GLB without shared corners, as many scanners do, and takes it all the way.
Laid through(const std::string& name, const Sheet& sheet) {
  const TestFolder folder;
  GlbMesh mesh;
  mesh.points = y_up(sheet).points;
  mesh.triangles = sheet.triangles;
  GlbOptions options;
  options.indexed = false;
  auto scan = read_scan(write_glb(folder.file(name + ".glb"), {mesh}, options), {});
  INFO(name << ": " << (scan ? std::string() : scan.problem().message()));
  REQUIRE(scan.ok());
  const auto shared = std::make_shared<const SurfaceMesh>(scan->mesh);
  const auto places = parameterise(*shared, name);
  INFO((places ? std::string() : places.problem().message()));
  REQUIRE(places.ok());
  auto chart = Chart::certify(shared, *places, name);
  INFO((chart ? std::string() : chart.problem().message()));
  REQUIRE(chart.ok());
  Laid out{std::move(*scan), std::make_shared<const Chart>(std::move(*chart)), 0, 0};
  const Metric metric(out.chart, /*fair_scan=*/true);
  out.fair = metric.area();
  out.raw = metric.raw_area();
  WARN(name << ": " << shared->triangles.size() << " triangles, raw " << out.raw << " m2, fair " << out.fair
            << " m2, scale " << out.chart->stretch().least << " to " << out.chart->stretch().greatest);
  return out;
}

void check_real_scan(const std::string& name, const Sheet& sheet) {
  const Laid laid = through(name, sheet);
  // The reader keeps the surface: its own area agrees with a direct sum over the file's triangles.
  CHECK(laid.scan.raw_area_m2 == Approx(sheet_area(sheet)).epsilon(1e-3));
  CHECK(laid.raw == Approx(laid.scan.raw_area_m2).epsilon(1e-9));
  // Projection on smoothed normals can only lose area, and on these surfaces loses little.
  CHECK(laid.fair <= laid.raw * (1 + 1e-9));
  CHECK(laid.fair > 0.9 * laid.raw);
}

}  // namespace

TEST_CASE("two photogrammetry scans from outside are charted") {
  const std::string folder = fixtures::source_folder() + "/../shared/data/";
  for (const std::string name : {"mountain", "pizza"}) {
    const Sheet sheet = scaled_to(read_obj(folder + name + ".obj"), 4);
    if (sheet.triangles.empty()) {
      WARN("skipped: " << folder << name << ".obj is not there");
      continue;
    }
    check_real_scan(name, sheet);
  }
}

TEST_CASE("disc-like pieces of the libcgal-demo meshes are charted") {
  for (const std::string name : {"mannequin-devil", "bear", "lion-head"}) {
    const Sheet whole = read_demo_mesh(name + ".off");
    if (whole.triangles.empty()) {
      WARN("skipped: libcgal-demo's " << name << ".off is not installed");
      continue;
    }
    const Sheet piece = disc_round(scaled_to(whole, 4), 0, 2);
    REQUIRE(piece.triangles.size() > 500);
    check_real_scan(name, piece);
  }
}
