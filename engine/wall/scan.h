// Scan intake: a gate. What comes out is a clean triangle surface in metres, or one clear refusal.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/base/progress.h"
#include "engine/base/result.h"
#include "engine/wall/shapes.h"
#include "engine/wall/surface_mesh.h"

namespace pontata {

struct ScanOptions {
  double unit_m = 1.0;         // metres per file unit (glTF states metres; the user may override)
  bool y_up = true;            // glTF is Y up; turned to our Z up
  bool flip = false;           // the painter stands on the other side
  double smoothing_m = 0.060;  // wavelength over which normals are smoothed
  double weld_m = 1e-5;        // points nearer than this are one point
  Placement3 placement;
  double scale = 1;  // applied after the unit: from a distance known on the real wall (known_scale)
  // Only what lies inside is the wall; m in the scan's own frame after unit, scale and axes, before the placement.
  struct Box {
    Vec3 low, high;
  };
  std::optional<Box> crop;
  std::optional<Vec3> part_at;  // building frame: the connected part nearest to here is the wall; else the largest
  double fill_rim_m = 0;        // holes with a rim up to this length are filled, the others stay openings
  std::optional<Vec3> cut_at;   // building frame: a wall that closes round itself is cut along a line through here
};

// What intake mended, in plain words for the painter, and the counts behind them.
struct ScanReport {
  std::size_t points_read = 0, triangles_read = 0;
  std::size_t welded_points = 0, dropped_degenerate = 0, dropped_duplicate = 0, flipped = 0, dropped_small_parts = 0;
  std::size_t holes = 0;
  double longest_hole_rim_m = 0;
  struct Part {
    double area_m2 = 0;
    Vec3 at{0, 0, 0};  // a place on it, building frame
  };
  std::vector<Part> parts;  // connected parts, the largest first, at most 20; one of them is the wall
  struct Hole {
    double rim_m = 0;
    Vec3 at{0, 0, 0};  // middle of its rim, building frame
    bool filled = false;
  };
  std::vector<Hole> hole_list;  // longest rim first
  double raw_area_m2 = 0;
  std::vector<std::string> says;
};

struct ScanSurface {
  SurfaceMesh mesh;  // one connected, oriented, manifold part with one or more border loops
  ScanReport report;
  double raw_area_m2 = 0;  // area of the triangles as scanned; the fair area uses the smoothed normals
};

// Unit named on the command line: mm, cm, m, ft, in -> metres per unit.
Result<double> scan_unit(std::string_view name);

// Reads .glb or .gltf: all meshes with node transforms, indexed or not, triangles, strips and fans. Refuses by name:
// required extensions (Draco, mesh quantisation...), no triangles, NaN or infinite coordinates, truncated files,
// accessors that point outside their buffers, closed surfaces, extents below 1 cm or above 500 m (the unit is probably
// wrong).
Result<ScanSurface> read_scan(const std::string& path, const ScanOptions& options, Progress* progress = nullptr);

// The same clean-up on triangles from elsewhere (used by tests and the re-open of a project), in the units and axes of a
// file: the options' unit, axes and placement are applied. `name` is used in messages.
Result<ScanSurface> clean_scan(std::vector<Vec3> points, std::vector<Triangle> triangles, const std::string& name,
                               const ScanOptions& options, Progress* progress = nullptr);

// Unit vertex normals smoothed over `wavelength` metres of surface (implicit diffusion; Desbrun et al., "Implicit
// Fairing of Irregular Meshes using Diffusion and Curvature Flow", 1999). 0 gives area-weighted vertex normals.
std::vector<Vec3> smoothed_normals(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles,
                                   double wavelength);

}  // namespace pontata
