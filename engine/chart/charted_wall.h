// Everything heavy about one wall, built once and shared: surface, chart, metric, picking.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>

#include "engine/base/progress.h"
#include "engine/base/result.h"
#include "engine/chart/chart.h"
#include "engine/chart/metric.h"
#include "engine/wall/openings.h"
#include "engine/wall/picking.h"
#include "engine/wall/scan.h"
#include "engine/wall/shapes.h"

namespace pontata {

struct ChartedWall {
  std::shared_ptr<const Chart> chart;
  std::shared_ptr<const Metric> metric;
  PickTree pick;
  std::optional<ScanReport> scan;  // what intake mended, for a scan
  // Chart places of the surface before openings were cut into it; null where there are none.
  std::shared_ptr<const std::vector<LatticePoint>> places_before_openings;

  const SurfaceMesh& mesh() const { return chart->mesh(); }
  // Place in the building at a chart place; nullopt outside.
  std::optional<Vec3> position(ChartPoint p) const;
  // Chart place of the wall's point nearest to p, and its distance (m).
  struct Address {
    ChartPoint place;
    double distance = 0;
  };
  Address address(const Vec3& p) const;
};
using WallRef = std::shared_ptr<const ChartedWall>;

// Certifies the addresses (m, one per point) and makes metric and picking for any surface.
Result<WallRef> chart_wall(std::shared_ptr<const SurfaceMesh> mesh, std::span<const Vec2> addresses,
                           const std::string& name, bool fair_scan);

// tolerance 0: the default chord tolerance.
Result<WallRef> build_wall(const ShapeSpec& spec, const Placement3& placement, const std::string& name,
                           double tolerance = 0, std::span<const Opening> openings = {});
Result<WallRef> build_wall(const std::string& scan_path, const ScanOptions& options, const std::string& name,
                           Progress* progress = nullptr, std::span<const Opening> openings = {});
// The same scan with the chart it was given before (one place per point of the cleaned surface): nothing is computed
// anew but the certificate. Refuses places that do not fit the scan.
Result<WallRef> rebuild_wall(const std::string& scan_path, const ScanOptions& options, const std::string& name,
                             std::span<const LatticePoint> places, Progress* progress = nullptr,
                             std::span<const Opening> openings = {});

}  // namespace pontata
