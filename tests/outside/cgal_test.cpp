// Areas, volumes and ways over scanned surfaces against a reference library, CGAL 5.5.1 (Debian 12, libcgal-dev):
// Polygon Mesh Processing (area, volume) and Surface_mesh_shortest_path. An oracle of the tests only.
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/border.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/Surface_mesh_shortest_path.h>
#include <CGAL/version.h>

#include <catch2/catch.hpp>
#include <cmath>

#include "engine/chart/geodesic.h"
#include "engine/chart/parameterise.h"
#include "tests/fixtures/clipping.h"
#include "tests/fixtures/mesh_files.h"
#include "tests/fixtures/noisy_scans.h"
#include "tests/fixtures/random_places.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;

Mesh to_cgal(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles) {
  Mesh mesh;
  std::vector<Mesh::Vertex_index> vertex;
  for (const Vec3& p : points) vertex.push_back(mesh.add_vertex({p.x, p.y, p.z}));
  for (const Triangle& t : triangles)
    if (mesh.add_face(vertex[t[0]], vertex[t[1]], vertex[t[2]]) == Mesh::null_face()) FAIL("not a surface");
  return mesh;
}

// The closed skin between a surface and its offset by t along its corner normals, with walls of triangles along the
// border.
Mesh shell(const SurfaceMesh& surface, const std::vector<std::vector<std::uint32_t>>& loops, double t) {
  const auto n = static_cast<std::uint32_t>(surface.points.size());
  std::vector<Vec3> points = surface.points;
  for (std::size_t i = 0; i < n; ++i) points.push_back(surface.points[i] + t * surface.normals[i]);
  std::vector<Triangle> triangles;
  for (const Triangle& c : surface.triangles) {
    triangles.push_back({c[0], c[2], c[1]});
    triangles.push_back({c[0] + n, c[1] + n, c[2] + n});
  }
  for (const auto& loop : loops)
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const auto p = loop[i], q = loop[(i + 1) % loop.size()];
      triangles.push_back({p, q, q + n}), triangles.push_back({p, q + n, p + n});
    }
  return to_cgal(points, triangles);
}

WallRef wall_of(const Sheet& sheet, const std::string& name) {
  ScanOptions options;
  options.y_up = false;
  auto scan = clean_scan(sheet.points, sheet.triangles, name, options).value();
  const auto mesh = std::make_shared<const SurfaceMesh>(std::move(scan.mesh));
  return chart_wall(mesh, parameterise(*mesh, name).value(), name, true).value();
}

double coat(const ChartedWall& wall, double t) {
  EdgeMeasure sum;
  for (const Ring& ring : wall.chart->border_rings()) sum += rim(wall, ring);
  return coat_volume(sum.area_m2, sum.bend_m, sum.gauss, t);
}

// Raw area to rounding; coat against the shell between the scan and its offset to `tolerance`.
void check_against_cgal(const ChartedWall& wall, const std::string& name, double tolerance) {
  namespace pmp = CGAL::Polygon_mesh_processing;
  const double area = pmp::area(to_cgal(wall.mesh().points, wall.mesh().triangles));
  CHECK(wall.metric->raw_area() == Approx(area).epsilon(1e-12));
  for (const double t : {0.005, 0.015}) {
    const Mesh closed = shell(wall.mesh(), wall.chart->border_loops(), t);
    REQUIRE(CGAL::is_closed(closed));
    const double volume = pmp::volume(closed), ours = coat(wall, t);
    WARN(name << ", CGAL " << CGAL_VERSION_STR << ": raw area " << area << " m2, coat of " << 1000 * t << " mm "
              << volume << " m3; ours " << ours << " m3, " << 100 * (ours / volume - 1) << " %");
    CHECK(ours == Approx(volume).epsilon(tolerance));
    CHECK(std::abs(area * t / volume - 1) > tolerance);  // raw area times thickness would fail
  }
}

}  // namespace

TEST_CASE("raw area and coat of a scan agree with CGAL's area and the volume of a closed shell") {
  // The shell stands on the rough triangles and their smoothed normals, so its volume at small t is the triangles'
  // vector area along those normals, which picks up a little of the noise (some 0.1 %).
  check_against_cgal(*wall_of(noisy_scan(sphere_piece(0.6, 0.9, 0.9), 0.014, 0.001, 31), "sphere"), "noisy sphere",
                     1.5e-3);
  check_against_cgal(*wall_of(noisy_scan(cylinder_piece(0.8, 1, 1), 0.02, 0, 32), "cylinder"), "clean cylinder", 2e-4);
}

TEST_CASE("the tape is as short as the exact shortest path of a reference library") {
  // Surface_mesh_shortest_path: exact continuous Dijkstra (Xin and Wang, "Improving Chen and Han's algorithm
  // on the discrete geodesic problem", 2009). On a rough cap of irregular triangles with noise of 3 mm on 50 mm.
  INFO("CGAL " << CGAL_VERSION_STR);
  const auto piece = sphere_piece(0.6, 0.9, 0.9);
  const auto sheet = noisy_scan(piece, 0.05, 0.003, 9);
  SurfaceMesh own;
  own.points = sheet.points;
  own.triangles = sheet.triangles;
  own.normals = smoothed_normals(own.points, own.triangles, 0);
  own.corner_normals = own.triangles;
  std::vector<Vec2> address;
  for (const Vec3& p : own.points) address.push_back(piece.nearest(p));
  const auto wall = chart_wall(std::make_shared<const SurfaceMesh>(own), address, "cap", false).value();
  Mesh mesh;
  std::vector<Mesh::Vertex_index> vertex;
  for (const Vec3& p : own.points) vertex.push_back(mesh.add_vertex({p.x, p.y, p.z}));
  for (const Triangle& t : own.triangles) mesh.add_face(vertex[t[0]], vertex[t[1]], vertex[t[2]]);
  CGAL::Surface_mesh_shortest_path<CGAL::Surface_mesh_shortest_path_traits<Kernel, Mesh>> exact(mesh);
  Random random(45);
  int same = 0, pairs = 0;
  double worst = 0;
  for (int source = 0; source < 6; ++source) {
    const auto from = static_cast<std::uint32_t>(random.below(own.points.size()));
    exact.remove_all_source_points();
    exact.add_source_point(vertex[from]);
    for (int target = 0; target < 20; ++target) {
      const auto to = static_cast<std::uint32_t>(random.below(own.points.size()));
      if (to == from) continue;
      const double least = exact.shortest_distance_to_source_points(vertex[to]).first;
      const auto& places = wall->chart->places();
      const double ours = stretch_tape(*wall, to_chart(places[from]), to_chart(places[to])).value().over_m;
      REQUIRE(ours >= least * (1 - 1e-9));  // nothing is shorter
      REQUIRE(ours <= least * (1 + 2e-3));  // a neighbouring valley of the roughness may be as good but for this
      ++pairs, same += ours <= least * (1 + 1e-9) ? 1 : 0;
      worst = std::max(worst, ours / least - 1);
    }
  }
  WARN("tape: " << same << " of " << pairs << " ways on a rough cap are the shortest to 1e-9, the worst " << 100 * worst
                << " % longer");
  CHECK(same > pairs / 2);
}
