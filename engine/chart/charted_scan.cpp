#include "engine/chart/charted_wall.h"
#include "engine/chart/openings_cut.h"
#include "engine/chart/parameterise.h"

namespace pontata {

namespace {

Result<WallRef> open_wall(std::shared_ptr<const SurfaceMesh> mesh, std::span<const Vec2> addresses,
                          const std::string& name, std::span<const Opening> openings) {
  if (openings.empty()) return chart_wall(std::move(mesh), addresses, name, true);
  const auto whole = Chart::certify(std::move(mesh), addresses, name);
  if (!whole) return whole.problem();
  return wall_with_openings(*whole, openings, name, true);
}

Result<WallRef> chart_scan(ScanSurface scan, std::shared_ptr<const SurfaceMesh> mesh, std::span<const Vec2> addresses,
                           const std::string& name, std::span<const Opening> openings, Progress* progress) {
  report(progress, 0.95, "measuring the surface");
  auto wall = open_wall(std::move(mesh), addresses, name, openings);
  if (!wall) return wall.problem();
  auto with_report = std::make_shared<ChartedWall>(**wall);
  with_report->scan = std::move(scan.report);
  return WallRef(std::move(with_report));
}

}  // namespace

Result<WallRef> build_wall(const std::string& scan_path, const ScanOptions& options, const std::string& name,
                           Progress* progress, std::span<const Opening> openings) {
  auto scan = read_scan(scan_path, options, progress);
  if (!scan) return scan.problem();
  auto mesh = std::make_shared<const SurfaceMesh>(std::move(scan->mesh));
  const auto addresses = parameterise(*mesh, name, {}, progress);
  if (!addresses) return addresses.problem();
  return chart_scan(std::move(*scan), std::move(mesh), *addresses, name, openings, progress);
}

Result<WallRef> rebuild_wall(const std::string& scan_path, const ScanOptions& options, const std::string& name,
                             std::span<const LatticePoint> places, Progress* progress,
                             std::span<const Opening> openings) {
  auto scan = read_scan(scan_path, options, progress);
  if (!scan) return scan.problem();
  auto mesh = std::make_shared<const SurfaceMesh>(std::move(scan->mesh));
  if (mesh->points.size() != places.size())
    return Problem{"the places kept for wall " + name + " do not fit its scan", scan_path,
                   "Open the project with the version that made it, or begin anew with this scan."};
  std::vector<Vec2> addresses;
  addresses.reserve(places.size());
  for (const auto& p : places) addresses.push_back(to_vec(to_chart(p)));
  return chart_scan(std::move(*scan), std::move(mesh), addresses, name, openings, progress);
}

}  // namespace pontata
