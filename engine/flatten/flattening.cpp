#include "engine/flatten/flattening.h"

#include <algorithm>
#include <cmath>

#include "engine/flatten/first_map.h"
#include "engine/flatten/isometry.h"
#include "engine/flatten/label_point.h"
#include "engine/flatten/least_strain.h"
#include "engine/flatten/paper_rounds.h"
#include "engine/flatten/rim_crossing.h"

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

// Steps of the solver, at most, to lower the greatest strain: some seconds' worth.
int steps_for(std::size_t points) { return points < 30000 ? 40 : 12; }

bool counts(const RestTriangle& r) { return r.height >= kThinnestStrained; }

Stretches stretches_of(const Patch& patch, const RestTriangle& r, std::size_t t, const std::vector<Vec2>& flat) {
  const Triangle& v = patch.triangles[t];
  return stretches(gradient(r, flat[v[0]], flat[v[1]], flat[v[2]]));
}

double strain(Stretches s) { return std::max(std::abs(s.greater - 1), std::abs(s.lesser - 1)); }

double greatest_strain(const Patch& patch, std::span<const RestTriangle> rest, const std::vector<Vec2>& flat) {
  double worst = 0;
  for (std::size_t t = 0; t < rest.size(); ++t)
    if (counts(rest[t])) worst = std::max(worst, strain(stretches_of(patch, rest[t], t, flat)));
  return worst;
}

std::optional<std::vector<Vec2>> first_map(const Patch& patch, std::span<const RestTriangle> rest) {
  constexpr double kNear = 0.02;  // beyond it a conformal start may be nearer, above all for long bent strips
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

double rim_length(const Patch& patch, std::size_t rim, std::size_t i) {
  const auto& r = patch.rims[rim];
  if (!patch.rim_lengths.empty()) return patch.rim_lengths[rim][i];
  return glm::distance(patch.points[r[i]], patch.points[r[(i + 1) % r.size()]]);
}

// Greatest difference of length, printed less surface, of a rim stretch between neighbouring corners; in mm.
double greatest_misfit(const Patch& patch, const std::vector<Vec2>& flat) {
  double worst = 0;
  for (std::size_t n = 0; n < patch.rims.size(); ++n) {
    const auto& rim = patch.rims[n];
    std::vector<bool> corner(rim.size(), false);
    if (n < patch.corners.size())
      for (const std::uint32_t c : patch.corners[n]) corner[c] = true;
    const auto start = static_cast<std::size_t>(std::find(corner.begin(), corner.end(), true) - corner.begin());
    double difference = 0;
    for (std::size_t k = 0; k < rim.size(); ++k) {
      const std::size_t i = (start + k) % rim.size(), j = (i + 1) % rim.size();
      difference += glm::distance(flat[rim[i]], flat[rim[j]]) - rim_length(patch, n, i);
      if (corner[j] || k + 1 == rim.size()) worst = std::max(worst, std::abs(difference)), difference = 0;
    }
  }
  return 1000 * worst;
}

void report_strain(const Patch& patch, std::span<const RestTriangle> rest, Flattening& out) {
  out.folded = rims_cross(patch.rims, out.flat);
  for (std::size_t t = 0; t < rest.size(); ++t) {
    const Stretches s = stretches_of(patch, rest[t], t, out.flat);
    if (!(s.lesser > 0)) out.folded = true;
    if (!counts(rest[t])) continue;
    out.max_strain = std::max(out.max_strain, strain(s));
    out.area_strain = std::max(out.area_strain, std::abs(s.greater * s.lesser - 1));
  }
  out.misfit_mm = greatest_misfit(patch, out.flat);
  if (const auto alpha = largest_disc(patch)) out.least_strain = least_strain_of_disc(*alpha);
}

// Held runs brought to their shapes, then the greatest strain lowered.
void lower_further(const Patch& patch, std::span<const RestTriangle> rest, const FlattenOptions& options,
                   Flattening& out, const Progress* progress) {
  if (options.held.empty() && !options.lower_greatest) return;
  PaperSolver solver(patch.triangles, rest, out.flat, make_bodies(patch, options.held, out.flat));
  if (!options.held.empty()) hold_runs(solver, options.hold_m, progress), out.flat = solver.flat();
  if (options.lower_greatest) lower_greatest(solver, options.hold_m, steps_for(out.flat.size()), out.flat, progress);
  out.hold_error_m = hold_error(make_bodies(patch, options.held, out.flat), out.flat).distance;
}

}  // namespace

Result<Flattening> flatten(const Patch& patch, const FlattenOptions& options, Progress* progress) {
  if (patch.triangles.empty() || patch.rims.empty())
    return Problem{"there is nothing to lay flat", "", "Draw the giornata's outline again."};
  const std::vector<RestTriangle> rest = rest_triangles(patch);
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
  report_strain(patch, rest, out);
  return out;
}

}  // namespace pontata
