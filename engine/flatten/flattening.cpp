#include "engine/flatten/flattening.h"

#include <algorithm>
#include <cmath>

#include "engine/flatten/first_map.h"
#include "engine/flatten/isometry.h"
#include "engine/flatten/label_point.h"
#include "engine/flatten/least_strain.h"
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

// The scale at which the greatest stretch and the greatest shrinking are alike.
void balance_scale(const Patch& patch, std::span<const RestTriangle> rest, std::vector<Vec2>& flat) {
  double greatest = 0, least = 1e300;
  for (std::size_t t = 0; t < rest.size(); ++t)
    if (counts(rest[t])) {
      const Stretches s = stretches_of(patch, rest[t], t, flat);
      greatest = std::max(greatest, s.greater), least = std::min(least, s.lesser);
    }
  if (greatest > 0 && least < 1e300)
    for (Vec2& p : flat) p *= 2 / (greatest + least);
}

// Lowers the greatest strain by giving strained triangles more weight, in proportion to their strain, round by round
// (Lawson's reweighting; Rice and Usow, "The Lawson algorithm and extensions", 1968). Keeps the best map seen.
void lower_greatest(const Patch& patch, IsometryProblem& problem, std::vector<Vec2>& flat, const Progress* progress) {
  constexpr double kDevelopable = 1e-5;
  constexpr int kRounds = 6;
  std::vector<Vec2> now = flat;
  balance_scale(patch, problem.rest, now);
  double best = greatest_strain(patch, problem.rest, flat);
  if (const double s = greatest_strain(patch, problem.rest, now); s < best) best = s, flat = now;
  for (int round = 0; round < kRounds && best > kDevelopable && !is_cancelled(progress); ++round) {
    double mean = 0, mass = 0;
    for (std::size_t t = 0; t < problem.rest.size(); ++t) {
      const double w = problem.weights[t] * problem.rest[t].area;
      mean += w * strain(stretches_of(patch, problem.rest[t], t, now)), mass += w;
    }
    mean /= mass;
    for (std::size_t t = 0; t < problem.rest.size(); ++t)
      problem.weights[t] *= std::clamp(strain(stretches_of(patch, problem.rest[t], t, now)) / mean, 0.1, 4.0);
    lower_strain(problem, now, {10, 1e-14}, progress);
    std::vector<Vec2> scaled = now;
    balance_scale(patch, problem.rest, scaled);
    const double s = greatest_strain(patch, problem.rest, scaled);
    if (s < best) best = s, flat = scaled;
  }
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
  if (options.lower_greatest) lower_greatest(patch, problem, out.flat, progress);
  if (is_cancelled(progress)) return Problem{"stopped", "", ""};
  set_upright(patch, out);
  report_strain(patch, rest, out);
  return out;
}

}  // namespace pontata
