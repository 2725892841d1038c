#include "engine/wall/shape_cusps.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/base/lattice.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

constexpr double kCut = 0.005;               // m
constexpr double kCutOfRise = 0.01;          // of a groin's rise, where that is less
constexpr double kCutOfSide = 0.005;         // of a pendentive's side, where that is less
constexpr double kLeastWidth = 64 * kPitch;  // m, of what remains at the cut
constexpr double kUprightCosine = 0.01;      // within about half a degree of upright

double longest_measure(const ShapeSpec& spec) {
  double longest = 0;
  for (const auto name : measures_of(spec.kind))
    if (const auto& measure = shape_measure(name); !measure.is_angle) longest = std::max(longest, spec.*measure.value);
  return longest;
}

// m, along one strip.
double length_left_out(const ShapeSpec& spec) {
  if (spec.kind == ShapeKind::pendentive) return 0.5 * spec.side * pendentive_end(spec);
  const CrossVault vault = cross_vault(spec);
  return profile_place(vault.over_span, groin_end(vault)).y;
}

std::string unusual_size(const ShapeSpec& spec) {
  const double longest = longest_measure(spec);
  if (longest >= 0.3 && longest <= 100) return "";
  return "the longest measure is " + format_number(longest) + " m: is the unit right?";
}

}  // namespace

double groin_end(const CrossVault& vault) {
  const HalfProfile& p = vault.over_span;
  if (std::cos(p.foot) > kUprightCosine) return p.foot;
  const double rise = profile_place(p, 0).y;
  const double by_height = std::acos(std::cos(p.foot) + std::min(kCut, kCutOfRise * rise) / p.up);
  const double by_width = std::asin(std::sin(p.foot) * (1 - kLeastWidth / std::min(vault.a, vault.b)));
  return std::min(by_height, by_width);
}

double pendentive_end(const ShapeSpec& spec) {
  const double half = 0.5 * spec.side;
  // Ring and edge part by (half angle^2) / sqrt 2.
  const double by_width = std::sqrt(std::numbers::sqrt2 * kLeastWidth / half);
  return std::max(std::min(kCut, kCutOfSide * spec.side) / half, by_width);
}

double area_left_out(const ShapeSpec& spec) {
  if (spec.kind == ShapeKind::groin) {  // eight strips: arc below the end times half of its width there, or nearly
    const CrossVault vault = cross_vault(spec);
    const double chi = groin_end(vault), width = 1 - plan_share(vault, chi);
    const auto strips = [&](bool over_x) {
      const HalfProfile& p = vault.over(over_x);
      return 4 * (profile_length(p) - profile_arc(p, chi)) * width * (over_x ? vault.b : vault.a) / 3;
    };
    return chi < vault.over_span.foot ? strips(true) + strips(false) : 0;
  }
  if (spec.kind == ShapeKind::pendentive) {  // two tips, their width growing with the square of the way
    const double half = 0.5 * spec.side, angle = pendentive_end(spec);
    return 2 * half * half * std::pow(angle, 3) / (3 * std::numbers::sqrt2);
  }
  return 0;
}

std::vector<std::string> shape_notes(const ShapeSpec& spec) {
  std::vector<std::string> notes;
  if (const double area = area_left_out(spec); area > 0)
    notes.push_back("the last " + format_number(std::round(1e4 * length_left_out(spec)) / 10) + " mm of " +
                    (spec.kind == ShapeKind::groin ? "each foot" : "both upper tips") +
                    ", thinner than a hair, are left out: " + format_fixed(1e4 * area, 4) + " cm² in all");
  if (const auto size = unusual_size(spec); !size.empty()) notes.push_back(size);
  return notes;
}

}  // namespace pontata
