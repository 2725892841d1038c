#include "engine/flatten/flattening.h"

#include "engine/flatten/first_map.h"
#include "engine/flatten/flat_places.h"
#include "engine/flatten/flat_report.h"
#include "engine/flatten/isometry.h"
#include "engine/flatten/label_point.h"
#include "engine/flatten/paper_rounds.h"

namespace pontata {
namespace {

std::vector<RestTriangle> rest_triangles(const Patch& patch) {
  std::vector<RestTriangle> rest;
  for (std::size_t t = 0; t < patch.triangles.size(); ++t) {
    const Triangle& v = patch.triangles[t];
    std::array<double, 3> sides{};
    for (std::size_t k = 0; k < 3; ++k)
      sides[k] =
          patch.sides.empty() ? glm::distance(patch.points[v[k]], patch.points[v[(k + 1) % 3]]) : patch.sides[t][k];
    rest.push_back(rest_triangle(sides));
  }
  return rest;
}

constexpr std::size_t kLarge = 5000;  // points; beyond, the greatest strain is lowered by smooth moves

std::optional<std::vector<Vec2>> first_map(const Patch& patch, std::span<const RestTriangle> rest) {
  constexpr double kNear = 0.1;  // beyond it a conformal start may be nearer, above all for long bent strips
  auto by_chart = map_by_chart(patch, rest);
  if (by_chart && greatest_strain(patch, rest, *by_chart) < kNear) return by_chart;
  auto conformal = map_conformal(patch, rest);
  if (!conformal) return by_chart;
  if (by_chart && greatest_strain(patch, rest, *by_chart) < greatest_strain(patch, rest, *conformal)) return by_chart;
  return conformal;
}

// Turned so that up on the wall at the label is +y, with the box's lower left corner at the origin.
void set_upright(const Patch& patch, Flattening& out) {
  out.label = label_point(patch);
  const UpDirection up = up_at(patch, out.flat, out.label);
  out.up_by_height = up.by_height;
  Vec2 lo{1e300, 1e300};
  for (Vec2& p : out.flat) {
    p = {p.x * up.flat.y - p.y * up.flat.x, p.x * up.flat.x + p.y * up.flat.y};
    lo = glm::min(lo, p);
  }
  for (Vec2& p : out.flat) p -= lo;
}

// Held runs brought to their shapes, then the greatest strain lowered.
void lower_further(const Patch& patch, std::span<const RestTriangle> rest, const FlattenOptions& options,
                   Flattening& out, const Progress* progress) {
  constexpr int kSteps = 40, kFewSteps = 15;
  const bool large = out.flat.size() > kLarge;
  if (options.held.empty() && !options.lower_greatest) return;
  if (options.held.empty() && large) return lower_greatest_smoothly(patch, rest, out.flat, progress);
  auto bodies = make_bodies(patch, options.held, out.flat);
  auto system = every_point(patch.triangles, bodies, out.flat.size());
  PaperSolver solver(patch.triangles, rest, out.flat, bodies, std::move(system));
  if (!options.held.empty()) hold_runs(solver, options.hold_m, progress), out.flat = solver.flat();
  if (options.lower_greatest) lower_greatest(solver, options.hold_m, large ? kFewSteps : kSteps, out.flat, progress);
  out.hold_error_m = hold_error(bodies, out.flat).distance;
}

}  // namespace

namespace {

Result<Flattening> laid(const Patch& patch, std::span<const RestTriangle> rest, const FlattenOptions& options,
                        Progress* progress) {
  if (patch.triangles.empty() || patch.rims.empty())
    return Problem{"there is nothing to lay flat", "", "Draw the giornata's outline again."};
  auto start = first_map(patch, rest);
  if (!start)
    return Problem{"this giornata is too strongly curved to be laid flat in one piece", "",
                   "Divide it into smaller ones."};
  Flattening out;
  out.flat = std::move(*start);
  IsometryProblem problem{patch.triangles, rest, std::vector<double>(rest.size(), 1.0)};
  lower_strain(problem, out.flat, {options.iterations, 1e-14}, progress);
  lower_further(patch, rest, options, out, progress);
  if (is_cancelled(progress)) return Problem{"stopped", "", ""};
  set_upright(patch, out);
  return out;
}

}  // namespace

Result<Flattening> flat_places(const Patch& patch, const FlattenOptions& options, Progress* progress) {
  return laid(patch, rest_triangles(patch), options, progress);
}

Result<Flattening> flatten(const Patch& patch, const FlattenOptions& options, Progress* progress) {
  const std::vector<RestTriangle> rest = rest_triangles(patch);
  auto out = laid(patch, rest, options, progress);
  if (out) report_map(patch, rest, *out);
  return out;
}

}  // namespace pontata
