#include "engine/flatten/patch.h"

#include <algorithm>
#include <cmath>

#include "engine/base/predicates.h"
#include "engine/flatten/cut_marks.h"
#include "engine/flatten/patch_points.h"
#include "engine/flatten/patch_sew.h"
#include "engine/flatten/rim.h"
#include "engine/flatten/slits.h"

namespace pontata {
namespace {

std::vector<DenseRim> densify_all(const ChartedWall& wall, std::span<const Ring> rings, const RimOptions& options) {
  std::vector<DenseRim> rims;
  for (const Ring& ring : rings) rims.push_back(densify(ring, *wall.metric, options));
  return rims;
}

// The wanted spacing, or a wider one when the region would take more than the limit of points.
double fitting_spacing(const std::vector<DenseRim>& rims, const Shear& shear, const PatchOptions& options) {
  double chart_area = 0;
  for (const DenseRim& rim : rims) chart_area += 0.5 * kPitch * kPitch * static_cast<double>(twice_area(rim.points));
  const double area = std::abs(chart_area) * shear.xx * shear.yy;
  const double points = area / (options.spacing_m * options.spacing_m * std::sqrt(0.75));
  const double room = 0.7 * static_cast<double>(options.limit);
  return std::max(options.inside_m, options.spacing_m * std::max(1.0, std::sqrt(points / room)));
}

double triangle_area(double a, double b, double c) {
  const double s = (a + b + c) * (b + c - a) * (c + a - b) * (a + b - c);
  return s > 0 ? 0.25 * std::sqrt(s) : 0;
}

// Side lengths by the wall's first form at the middle of the triangle: always those of a real triangle.
std::array<double, 3> sides_from_form(const ChartedWall& wall, const std::array<ChartPoint, 3>& p) {
  const ChartPoint mid{(p[0].u + p[1].u + p[2].u) / 3, (p[0].v + p[1].v + p[2].v) / 3};
  const auto f = wall.metric->first_form(triangle_near(*wall.chart, to_lattice(mid)));
  std::array<double, 3> out{};
  for (std::size_t k = 0; k < 3; ++k) {
    const double du = p[(k + 1) % 3].u - p[k].u, dv = p[(k + 1) % 3].v - p[k].v;
    out[k] = std::sqrt(std::max(f.E * du * du + 2 * f.F * du * dv + f.G * dv * dv, 0.0));
  }
  return out;
}

// Measured side lengths. Where three of them make no triangle of about the right area (a splinter along the rim), the
// first form stands in.
void measure_sides(Patch& patch, const ChartedWall& wall, const Triangulation& tri,
                   const std::vector<Triangle>& across) {
  const std::size_t n = patch.triangles.size();
  patch.sides.assign(n, {0, 0, 0});
  for (std::uint32_t t = 0; t < n; ++t)
    for (std::size_t k = 0; k < 3; ++k) {
      if (patch.sides[t][k] > 0) continue;
      const std::uint32_t a = patch.triangles[t][k], b = patch.triangles[t][(k + 1) % 3], s = across[t][k];
      patch.sides[t][k] = seam_length(*wall.metric, tri.place(a), tri.place(b));
      if (s == Triangulation::kNoneAcross) continue;
      for (std::size_t j = 0; j < 3; ++j)
        if (patch.triangles[s][j] == b && patch.triangles[s][(j + 1) % 3] == a) patch.sides[s][j] = patch.sides[t][k];
    }
  for (std::uint32_t t = 0; t < n; ++t) {
    const Triangle& v = patch.triangles[t];
    const auto& l = patch.sides[t];
    const auto form = sides_from_form(wall, {patch.places[v[0]], patch.places[v[1]], patch.places[v[2]]});
    const double by_length = triangle_area(l[0], l[1], l[2]), by_form = triangle_area(form[0], form[1], form[2]);
    if (by_form > 0 && !(by_length > 0.7 * by_form && by_length < 1.4 * by_form)) {
      const double thin = by_form / (std::max({form[0], form[1], form[2]}) * 1e-3);
      if (thin < 1 || by_length == 0) patch.sides[t] = form;  // thinner than 2 mm
    }
  }
}

// The ball the patch lies on, when mean and Gaussian curvature agree with one everywhere.
std::optional<Sphere> find_sphere(const ChartedWall& wall, const Patch& patch) {
  constexpr double kAgree = 5e-3;
  double gauss = 0, radius = 0;
  Vec3 centre{0, 0, 0};
  int n = 0;
  const std::size_t step = 1 + patch.places.size() / 300;
  for (std::size_t i = 0; i < patch.places.size(); i += step) {
    const std::uint32_t t = triangle_near(*wall.chart, to_lattice(patch.places[i]));
    const Vec3 terms = wall.metric->web_terms(t);
    const double mean = -terms.y / (2 * terms.x), k = terms.z / terms.x;  // H toward the painter, K
    if (!(k > 1e-6) || std::abs(mean * mean - k) > kAgree * k) return std::nullopt;
    if (n > 0 && std::abs(k - gauss) > kAgree * gauss) return std::nullopt;
    if (n == 0) gauss = k;
    const WallPoint w{t, wall.chart->weights(t, patch.places[i])};
    radius += 1 / mean;
    centre += position(wall.mesh(), w) + normal(wall.mesh(), w) / mean;
    ++n;
  }
  if (n == 0) return std::nullopt;
  return Sphere{centre / static_cast<double>(n), std::abs(radius / n)};
}

// One region, or several that are not sewn.
std::optional<Patch> build_region(const ChartedWall& wall, std::span<const Ring> rings, const PatchOptions& options,
                                  const RimOptions& rim_options) {
  std::vector<SlitRim> slit_rims;
  for (DenseRim& rim : densify_all(wall, rings, rim_options)) slit_rims.push_back(plain_rim(std::move(rim)));
  Patch patch;
  patch.slits = put_slits(slit_rims, options.slits, wall, options.spacing_m);
  std::vector<DenseRim> rims;
  for (SlitRim& rim : slit_rims) {
    rims.push_back(std::move(rim.rim));
    patch.rim_steps.push_back(std::move(rim.steps));
  }
  const Shear shear = average_shear(wall, rims);
  auto region = triangulate_rims(rims, shear);
  if (!region) return std::nullopt;
  fill_region(*region, wall, shear, fitting_spacing(rims, shear, options), options.limit);
  const auto done = region->triangulation.region();
  if (done.triangles.empty()) return std::nullopt;
  patch.triangles = done.triangles;
  for (std::uint32_t v = 0; v < region->triangulation.size(); ++v) {
    patch.places.push_back(to_chart(region->triangulation.place(v)));
    patch.points.push_back(position_near(wall, region->triangulation.place(v)));
  }
  patch.rims = region->rims;
  patch.outlines.assign(rings.begin(), rings.end());
  for (const DenseRim& rim : rims) {
    patch.corners.push_back(rim.corners);
    patch.rim_lengths.push_back(rim.lengths);
  }
  measure_sides(patch, wall, region->triangulation, done.across);
  return patch;
}

constexpr double kMarkMerge = 2e-5;  // m; as RimOptions joins points

std::optional<Patch> build(const ChartedWall& wall, std::span<const Ring> rings, const PatchOptions& options,
                           const RimOptions& rim_options) {
  const CutMarks marks = mark_cuts(wall, rings, options.spacing_m, kMarkMerge);
  std::optional<Patch> patch;
  if (marks.pairs.empty()) {
    patch = build_region(wall, rings, options, rim_options);
  } else {
    const auto regions = regions_of(marks.rings);
    std::vector<Patch> parts;
    for (const auto& region : regions) {
      std::vector<Ring> own;
      for (const std::size_t r : region) own.push_back(marks.rings[r]);
      auto part = build_region(wall, own, options, rim_options);
      if (!part) return std::nullopt;
      parts.push_back(std::move(*part));
    }
    patch = sew(*wall.chart, parts, regions, marks);
  }
  if (patch) patch->sphere = find_sphere(wall, *patch);
  return patch;
}

Outcome check_rings(std::span<const Ring> rings) {
  if (rings.empty()) return Problem{"the giornata has no outline", "", "Draw its outline again."};
  for (const Ring& ring : rings)
    if (ring.size() < 3) return Problem{"an outline has fewer than three points", "", "Draw it again."};
  bool outer = false;
  for (const Ring& ring : rings) outer |= twice_area(ring) > 0;
  if (!outer) return Problem{"the outline encloses nothing", "", "Draw it again."};
  return Done{};
}

}  // namespace

std::vector<std::vector<Ring>> patch_parts(const ChartedWall& wall, std::span<const Ring> rings) {
  const auto regions = regions_of(rings);
  CutMarks marks;
  if (regions.size() > 1) marks = mark_cuts(wall, rings, PatchOptions{}.spacing_m, kMarkMerge);
  std::vector<std::vector<Ring>> parts;
  for (const auto& group : sewn_groups(regions, marks)) {
    auto& part = parts.emplace_back();
    for (const std::size_t region : group)
      for (const std::size_t r : regions[region]) part.push_back(rings[r]);
  }
  return parts;
}

Result<Patch> make_patch(const ChartedWall& wall, std::span<const Ring> rings, const PatchOptions& options,
                         Progress* progress) {
  if (const Outcome fine = check_rings(rings); !fine) return fine.problem();
  // Joining near points or dividing a stretch moves a rim by a hair; where that makes it cross another, it is done
  // without.
  for (const RimOptions& rim :
       {RimOptions{options.spacing_m}, RimOptions{options.spacing_m, 0}, RimOptions{options.spacing_m, 0, false}}) {
    if (is_cancelled(progress)) return Problem{"stopped", "", ""};
    if (auto patch = build(wall, rings, options, rim)) return std::move(*patch);
  }
  return Problem{"the outline crosses itself", "", "Move its points so that no two stretches cross."};
}

}  // namespace pontata
