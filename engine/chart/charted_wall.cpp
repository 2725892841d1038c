#include "engine/chart/charted_wall.h"

#include "engine/chart/openings_cut.h"

namespace pontata {

namespace {

Result<WallRef> assembled(Result<Chart> chart, bool fair_scan) {
  if (!chart) return chart.problem();
  auto wall = std::make_shared<ChartedWall>();
  wall->chart = std::make_shared<const Chart>(std::move(chart).value());
  wall->metric = std::make_shared<const Metric>(wall->chart, fair_scan);
  wall->pick = PickTree(wall->chart->shared_mesh());
  return WallRef(std::move(wall));
}

}  // namespace

std::optional<Vec3> ChartedWall::position(ChartPoint p) const {
  const auto point = chart->locate(p);
  if (!point) return std::nullopt;
  return pontata::position(mesh(), *point);
}

ChartedWall::Address ChartedWall::address(const Vec3& p) const {
  const auto hit = pick.nearest(p);
  return {chart->address(hit.point), hit.distance};
}

Result<WallRef> build_wall(const ShapeSpec& spec, const Placement3& placement, const std::string& name,
                           double tolerance, std::span<const Opening> openings) {
  if (const auto valid = validate(spec); !valid) {
    Problem problem = valid.problem();
    problem.where = name + ", " + problem.where;
    return problem;
  }
  auto shape = tessellate(spec, placement, tolerance > 0 ? tolerance : default_tolerance(spec));
  // A shape's own origin is kept: the tips that a pendentive leaves out belong to its box.
  auto whole = Chart::certify(std::make_shared<const SurfaceMesh>(std::move(shape.mesh)), shape.address, name, true);
  if (whole && !openings.empty()) return wall_with_openings(*whole, openings, name, false);
  return assembled(std::move(whole), false);
}

Result<WallRef> chart_wall(std::shared_ptr<const SurfaceMesh> mesh, std::span<const Vec2> addresses,
                           const std::string& name, bool fair_scan) {
  return assembled(Chart::certify(std::move(mesh), addresses, name), fair_scan);
}

}  // namespace pontata
