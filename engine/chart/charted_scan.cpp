#include <fmt/format.h>

#include <algorithm>

#include "engine/base/units.h"
#include "engine/chart/charted_wall.h"
#include "engine/chart/cut_line.h"
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

// How far the flat chart is from the wall, and where most, in plain words.
std::string stretch_words(const Chart& chart) {
  const SurfaceMesh& mesh = chart.mesh();
  double most = 0;
  std::uint32_t worst = 0;
  for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto [least, greatest] = chart.stretch_of(t);
    if (const double off = std::max(greatest, 1 / least); off > most) most = off, worst = t;
  }
  const auto& [least, greatest] = chart.stretch();
  const Vec3 p = position(mesh, {worst, Vec3{1, 1, 1} / 3.0});
  return fmt::format(
      "laid out flat, a length on the wall is {} to {} times as long as in the flat view, farthest off near X {}, "
      "Y {}, Z {} m; all measures are taken on the wall itself",
      format_fixed(least, 2), format_fixed(greatest, 2), format_fixed(p.x, 2), format_fixed(p.y, 2),
      format_fixed(p.z, 2));
}

Result<WallRef> chart_scan(ScanSurface scan, std::shared_ptr<const SurfaceMesh> mesh, std::span<const Vec2> addresses,
                           const std::string& name, std::span<const Opening> openings, Progress* progress) {
  report(progress, 0.95, "measuring the surface");
  auto wall = open_wall(std::move(mesh), addresses, name, openings);
  if (!wall) return wall.problem();
  auto with_report = std::make_shared<ChartedWall>(**wall);
  with_report->scan = std::move(scan.report);
  with_report->scan->says.push_back(stretch_words(*with_report->chart));
  return WallRef(std::move(with_report));
}

// The scan, cut open where it closes round itself; the report says where.
Result<ScanSurface> read_open(const std::string& scan_path, const ScanOptions& options, Progress* progress) {
  auto scan = read_scan(scan_path, options, progress);
  if (!scan) return scan.problem();
  const auto cuts = cut_round_walls(scan->mesh, scan_path, options.cut_at);
  if (!cuts) return cuts.problem();
  for (auto& line : cuts->says()) scan->report.says.push_back(std::move(line));
  return scan;
}

}  // namespace

Result<WallRef> build_wall(const std::string& scan_path, const ScanOptions& options, const std::string& name,
                           Progress* progress, std::span<const Opening> openings) {
  auto scan = read_open(scan_path, options, progress);
  if (!scan) return scan.problem();
  auto mesh = std::make_shared<const SurfaceMesh>(std::move(scan->mesh));
  const auto addresses = parameterise(*mesh, name, {}, progress);
  if (!addresses) return addresses.problem();
  return chart_scan(std::move(*scan), std::move(mesh), *addresses, name, openings, progress);
}

Result<WallRef> rebuild_wall(const std::string& scan_path, const ScanOptions& options, const std::string& name,
                             std::span<const LatticePoint> places, Progress* progress,
                             std::span<const Opening> openings) {
  auto scan = read_open(scan_path, options, progress);
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
