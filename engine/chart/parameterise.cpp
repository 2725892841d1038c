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
#include "engine/wall/scan_soup.h"

namespace pontata {
namespace {

constexpr std::size_t kStartPoints = 4000;     // of the coarsest level, where the first map is made
constexpr std::size_t kNewtonPoints = 40'000;  // above it a global step costs seconds
constexpr double kWorstStretch = 2;            // places with more are worked on longer
constexpr int kWorstRounds = 10;
constexpr int kRefineAttempts = 8;                   // before all rims are held back
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

// Refines so that no rims meet: where they would, their points return behind the rim they left, at last all of them.
bool refine_clear(const LiddedSheet& sheet, const Levels& levels, std::size_t to, const Loops& rims,
                  std::vector<Vec2>& places) {
  const std::vector<Vec2> before = places;
  std::vector<char> dented(places.size(), false);
  for (int attempt = 0; attempt <= kRefineAttempts; ++attempt) {
    if (attempt > 0) places = before;
    if (attempt == kRefineAttempts) dented.assign(places.size(), true);
    if (!refine(sheet, levels, to, dented, places)) {
      attempt = std::max(attempt, kRefineAttempts - 1);
      continue;
    }
    const auto crossing = crossing_points(rims, places);
    if (crossing.empty()) return true;
    for (const auto p : crossing) dented[p] = true;
  }
  return false;
}

std::optional<Problem> solve_levels(LiddedSheet sheet, const Levels& levels, bool opening, const std::string& name,
                                    const ParameteriseOptions& options, std::vector<Vec2>& places, Progress* progress) {
  const std::size_t coarsest = levels.levels.size() - 1;
  RelaxSheet level(sheet, levels.levels[coarsest].triangles);
  if (level.rims.size() != 1 || !convex_start(sheet.points, level.triangles, level.rims[0], places))
    return no_place(name);
  relax_globally(level, 3 * options.iterations, 1e-9, places, progress);
  if (opening && open_lids(level, places, sheet)) {
    level = RelaxSheet(sheet, level.triangles);
    relax_globally(level, 3 * options.iterations, 1e-9, places, progress);
  }
  for (std::size_t next = coarsest; next-- > 0;) {
    if (is_cancelled(progress)) return Problem{"laying out was cancelled", name, ""};
    report(progress, 0.3 + 0.6 * static_cast<double>(coarsest - next) / static_cast<double>(coarsest + 1),
           "Laying the surface out flat");
    level = RelaxSheet(sheet, levels.levels[next].triangles);
    if (!refine_clear(sheet, levels, next, level.rims, places)) return no_place(name);
    relax_locally(level, 8, places, progress);
    if (level.triangles.size() / 2 <= std::min(kNewtonPoints, options.solve_limit)) {
      relax_globally(level, options.iterations, 1e-7, places, progress);
      relax_locally(level, 8, places, progress);
    }
  }
  relax_worst(level, kWorstStretch, kWorstRounds, places, progress);
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
  const auto rims = sheet_rims(mesh, name);
  if (!rims) return rims.problem();
  const LiddedSheet sheet = close_holes(mesh.points, mesh.triangles, *rims);
  std::vector<Vec2> places(sheet.points.size(), Vec2{0, 0});
  report(progress, 0.05, "Thinning the surface for the first layout");
  const Levels levels = coarsen(sheet, level_targets(sheet.points.size(), options.solve_limit), progress);
  report(progress, 0.2, "Laying the surface out flat");
  auto problem = solve_levels(sheet, levels, /*opening=*/true, name, options, places, progress);
  if (problem && rims->size() > 1)
    problem = solve_levels(sheet, levels, /*opening=*/false, name, options, places, progress);
  if (problem) return *problem;
  if (is_cancelled(progress)) return Problem{"laying out was cancelled", name, ""};
  places.resize(mesh.points.size());
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
