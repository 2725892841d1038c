#include "engine/chart/charted_wall.h"
#include "engine/chart/parameterise.h"

namespace pontata {

Result<WallRef> build_wall(const std::string& scan_path, const ScanOptions& options, const std::string& name,
                           Progress* progress) {
  auto scan = read_scan(scan_path, options, progress);
  if (!scan) return scan.problem();
  auto mesh = std::make_shared<const SurfaceMesh>(std::move(scan->mesh));
  const auto addresses = parameterise(*mesh, name, {}, progress);
  if (!addresses) return addresses.problem();
  report(progress, 0.95, "measuring the surface");
  auto wall = chart_wall(std::move(mesh), *addresses, name, true);
  if (!wall) return wall.problem();
  auto with_report = std::make_shared<ChartedWall>(**wall);
  with_report->scan = std::move(scan->report);
  return WallRef(std::move(with_report));
}

}  // namespace pontata
