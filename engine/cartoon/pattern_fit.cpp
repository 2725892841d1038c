#include "engine/cartoon/pattern_fit.h"

#include <algorithm>
#include <cmath>

#include "engine/flatten/development.h"
#include "engine/flatten/rim_crossing.h"

namespace pontata {
namespace {

// Points of the two lips, from mouth to tip.
struct Lips {
  std::vector<std::uint32_t> left, right;
};

Lips lips_of(const Patch& patch, const SlitPlace& at) {
  const auto& rim = patch.rims[at.rim];
  const std::size_t n = rim.size();
  Lips out;
  for (std::size_t i = at.left, j = at.right;; i = (i + 1) % n, j = (j + n - 1) % n) {
    out.left.push_back(rim[i]), out.right.push_back(rim[j]);
    if (i == at.tip) return out;
  }
}

// The patch laid flat freely, when that takes no strain.
std::optional<Flattening> strainless(const Patch& patch, Progress* progress) {
  constexpr double kStrainless = 2e-5;
  FlattenOptions options;
  options.lower_greatest = false;
  auto flat = flatten(patch, options, progress);
  if (!flat || flat->max_strain > kStrainless) return std::nullopt;
  return std::move(*flat);
}

}  // namespace

PatchOptions print_division() {
  PatchOptions division;
  division.limit = 15000;  // beyond some 10 m² inside points are set wider; rims keep their spacing
  return division;
}

PatchOptions coarse_division() {
  PatchOptions division = print_division();
  division.inside_m = 0.06;
  return division;
}

Result<PatternFit> fit_pattern(const CartoonWall& wall, std::span<const Ring> rings, std::span<const Slit> slits,
                               const PatchOptions& division, const RimSides& sides, Progress* progress) {
  PatchOptions with_slits = division;
  with_slits.slits.assign(slits.begin(), slits.end());
  auto patch = make_patch(*wall.wall, rings, with_slits, progress);
  if (!patch) return patch.problem();
  PatternFit out;
  out.patch = std::move(*patch);
  std::optional<Flattening> unheld = slits.empty() ? strainless(out.patch, progress) : std::nullopt;
  if (unheld) {
    out.flat = std::move(*unheld);
  } else {
    RimRuns runs = developed_rims(*wall.wall, out.patch, junctions_of(out.patch, sides));
    out.closed = !runs.open.empty();
    FlattenOptions options;
    options.held = std::move(runs.runs);
    options.lower_greatest = slits.empty();  // between cuts the least mean strain leaves lines truer
    auto flat = flatten(out.patch, options, progress);
    if (!flat) return flat.problem();
    out.flat = std::move(*flat);
  }
  out.worst_mm = out.flat.worst_pair_mm;
  out.held_mm = 1000 * out.flat.hold_error_m;
  out.folded = out.flat.folded = overlaps_itself(out.patch, out.flat.flat);
  return out;
}

bool fits_within(const PatternFit& f, double tolerance_mm) {
  return !f.folded && !f.closed && f.held_mm < 0.1 && f.worst_mm <= tolerance_mm;
}

std::vector<double> lip_gaps(const Patch& patch, const std::vector<Vec2>& flat, const SlitPlace& at) {
  const Lips lips = lips_of(patch, at);
  const std::size_t n = lips.left.size();
  const auto middle = [&](std::size_t i) { return 0.5 * (flat[lips.left[i]] + flat[lips.right[i]]); };
  std::vector<double> out(n, 0);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    const Vec2 along = middle(i + 1) - middle(i > 0 ? i - 1 : 0);
    const double size = glm::length(along);
    if (size > 0) out[i] = cross2(along, flat[lips.left[i]] - flat[lips.right[i]]) / size;
  }
  return out;
}

bool overlaps_itself(const Patch& patch, const std::vector<Vec2>& flat) {
  for (const Triangle& t : patch.triangles)
    if (!(cross2(flat[t[1]] - flat[t[0]], flat[t[2]] - flat[t[0]]) > 0)) return true;
  std::vector<Vec2> touching = flat;
  for (const SlitPlace& at : patch.slits) {
    const Lips lips = lips_of(patch, at);
    const auto gaps = lip_gaps(patch, flat, at);
    for (std::size_t i = 0; i < gaps.size(); ++i)
      if (std::abs(gaps[i]) < kLipsTouch)
        touching[lips.left[i]] = touching[lips.right[i]] = 0.5 * (flat[lips.left[i]] + flat[lips.right[i]]);
  }
  return rims_cross(patch.rims, touching);
}

bool open_where_lips_cross(std::vector<Slit>& slits, const PatternFit& fit) {
  bool any = false;
  for (const SlitPlace& at : fit.patch.slits) {
    const auto gaps = lip_gaps(fit.patch, fit.flat.flat, at);
    if (*std::min_element(gaps.begin(), gaps.end()) > -kLipsTouch) continue;
    any = true;
    Slit& slit = slits[at.slit];
    const std::size_t n = slit.inward.size();
    slit.open_m.resize(n, 0);
    // The slit's places lie evenly along its lips but for their division: by share of the way.
    for (std::size_t i = 0; i < n; ++i) {
      const double where = static_cast<double>(gaps.size() - 1) * static_cast<double>(i) / static_cast<double>(n);
      const auto k = std::min(static_cast<std::size_t>(where), gaps.size() - 2);
      const double gap = gaps[k] + (where - static_cast<double>(k)) * (gaps[k + 1] - gaps[k]);
      slit.open_m[i] = std::max(0.0, slit.open_m[i] - 1.1 * gap + 0.5 * kLipsTouch);
    }
  }
  return any;
}

}  // namespace pontata
