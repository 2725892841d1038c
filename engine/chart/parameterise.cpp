#include "engine/chart/parameterise.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/base/lattice.h"
#include "engine/base/units.h"
#include "engine/chart/parameterise_border.h"
#include "engine/chart/parameterise_energy.h"
#include "engine/chart/parameterise_levels.h"
#include "engine/chart/parameterise_relax.h"
#include "engine/chart/parameterise_start.h"
#include "engine/wall/scan_topology.h"

namespace pontata {
namespace {

constexpr std::size_t kStartPoints = 4000;           // of the coarsest level, where the first map is made
constexpr std::size_t kNewtonPoints = 40'000;        // above it a global step costs seconds
constexpr double kLeastChartAltitude = 64 * kPitch;  // four times what the chart's certificate asks

std::vector<std::size_t> level_targets(std::size_t points, std::size_t solve_limit) {
  std::vector<std::size_t> targets;
  for (std::size_t n = kStartPoints; n < points / 3; n *= 6) targets.insert(targets.begin(), n);
  if (targets.empty() && points > 2 * kStartPoints) targets.push_back(kStartPoints);
  if (points > solve_limit && (targets.empty() || targets.front() > solve_limit))
    targets.insert(targets.begin(), solve_limit);
  return targets;
}

Problem no_place(const std::string& name) {
  return {"the surface is too crumpled to be laid out flat without folds", name,
          "Smooth or thin the scan, or bring in the wall in parts"};
}

void relax(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles, const Loops& rims, int steps,
           std::size_t solve_limit, std::vector<Vec2>& places, Progress* progress) {
  const auto flat = lay_flat(points, triangles);
  const std::size_t count = triangles.size() / 2;
  if (count > std::min(kNewtonPoints, solve_limit))
    relax_locally(triangles, flat, rims, 8, places, progress);
  else
    relax_globally(triangles, flat, rims, steps, 1e-5, places, progress);
}

Loops rims_of(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles) {
  return border_loops(points, triangles, link_triangles(points, triangles));
}

std::optional<Problem> solve_levels(const std::vector<Vec3>& points, const Levels& levels, const std::string& name,
                                    const ParameteriseOptions& options, std::vector<Vec2>& places, Progress* progress) {
  const std::size_t coarsest = levels.levels.size() - 1;
  const auto& start = levels.levels[coarsest].triangles;
  Loops rims = rims_of(points, start);
  if (!convex_start(points, start, rims, places)) return no_place(name);
  relax_globally(start, lay_flat(points, start), rims, 3 * options.iterations, 1e-6, places, progress);
  for (std::size_t level = coarsest; level-- > 0;) {
    if (is_cancelled(progress)) return Problem{"laying out was cancelled", name, ""};
    report(progress, 0.3 + 0.6 * static_cast<double>(coarsest - level) / static_cast<double>(coarsest + 1),
           "Laying the surface out flat");
    const auto& triangles = levels.levels[level].triangles;
    rims = rims_of(points, triangles);
    const std::vector<Vec2> before = places;
    bool placed = refine(points, levels, level, /*dented=*/false, places);
    if (!placed || rims_cross(rims, places)) {
      places = before;
      placed = refine(points, levels, level, /*dented=*/true, places) && !rims_cross(rims, places);
    }
    if (!placed) return no_place(name);
    relax(points, triangles, rims, std::max(2, options.iterations / 3), options.solve_limit, places, progress);
  }
  return std::nullopt;
}

// Turns the chart so that `up` of the building runs along +v in the mean; on ceilings, where no direction is up, as
// seen from below with the head towards -y.
void turn_upright(const SurfaceMesh& mesh, std::vector<Vec2>& places) {
  Vec2 rise{0, 0}, back{0, 0};
  double area = 0;
  for (const Triangle& t : mesh.triangles) {
    const Vec2 ab = places[t[1]] - places[t[0]], ac = places[t[2]] - places[t[0]];
    const double twice = cross2(ab, ac), weight = triangle_area(mesh.points, t);
    const auto gradient = [&](double fb, double fc) {
      return Vec2{fb * ac.y - fc * ab.y, fc * ab.x - fb * ac.x} / twice;
    };
    const Vec3 b = mesh.points[t[1]] - mesh.points[t[0]], c = mesh.points[t[2]] - mesh.points[t[0]];
    rise += weight * gradient(b.z, c.z);
    back -= weight * gradient(b.y, c.y);
    area += weight;
  }
  Vec2 up = glm::length(rise) > 0.05 * area ? rise : back;
  if (!(glm::length(up) > 1e-6 * area)) up = {0, 1};
  up = glm::normalize(up);
  for (Vec2& p : places) p = {p.x * up.y - p.y * up.x, p.x * up.x + p.y * up.y};
}

// The thinnest triangle of the chart, where it is too thin for the lattice.
std::optional<std::size_t> too_thin(const SurfaceMesh& mesh, const std::vector<Vec2>& places) {
  double least = kLeastChartAltitude;
  std::optional<std::size_t> worst;
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
    const Triangle& t = mesh.triangles[i];
    double longest = 0;
    for (std::size_t k = 0; k < 3; ++k) longest = std::max(longest, glm::length(places[t[(k + 1) % 3]] - places[t[k]]));
    const double altitude = cross2(places[t[1]] - places[t[0]], places[t[2]] - places[t[0]]) / longest;
    if (!(altitude >= least)) least = altitude, worst = i;
  }
  return worst;
}

}  // namespace

Result<std::vector<Vec2>> parameterise(const SurfaceMesh& mesh, const std::string& name,
                                       const ParameteriseOptions& options, Progress* progress) {
  report(progress, 0, "Looking for the surface's edges");
  if (const auto rims = sheet_rims(mesh, name); !rims) return rims.problem();
  std::vector<Vec2> places(mesh.points.size(), Vec2{0, 0});
  report(progress, 0.05, "Thinning the surface for the first layout");
  const Levels levels =
      coarsen(mesh.points, mesh.triangles, level_targets(mesh.points.size(), options.solve_limit), progress);
  report(progress, 0.2, "Laying the surface out flat");
  if (auto problem = solve_levels(mesh.points, levels, name, options, places, progress)) return *problem;
  if (is_cancelled(progress)) return Problem{"laying out was cancelled", name, ""};
  turn_upright(mesh, places);
  if (const auto thin = too_thin(mesh, places)) {
    const Vec3 p = mesh.points[mesh.triangles[*thin][0]];
    return Problem{fmt::format("the surface is too crumpled to be laid out flat near {}, {}, {}", format_fixed(p.x, 3),
                               format_fixed(p.y, 3), format_fixed(p.z, 3)),
                   name, "Smooth or thin the scan there, or cut that part away"};
  }
  return places;
}

}  // namespace pontata
