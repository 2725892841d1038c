// Closed forms of the areas, and the tolerance that goes with them.

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/wall/shape_profile.h"
#include "engine/wall/shape_sizes.h"
#include "engine/wall/shape_surfaces.h"

namespace pontata {

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kSqrt2 = std::numbers::sqrt2;

// Integral of sin(chi) d arc from the crown to the springing: with c = cos chi, that of sqrt(B^2 + D c^2) dc, where
// D = A^2 - B^2 (Abramowitz and Stegun, 3.3.40 and 3.3.41).
double weighted_arc(const HalfProfile& p) {
  const double b2 = p.up * p.up, d = (p.across - p.up) * (p.across + p.up), root = std::sqrt(std::abs(d));
  const auto primitive = [&](double c) {
    const double bent = d > 0 ? std::asinh(root * c / p.up) : std::asin(std::min(1.0, root * c / p.up));
    return 0.5 * (c * std::sqrt(std::max(0.0, b2 + d * c * c)) + (d != 0 ? b2 / root * bent : p.up * c));
  };
  return primitive(1) - primitive(std::cos(p.foot));
}

// Straight lines of a web reach from the arris to the wall (groin) or from arris to arris (cloister).
double cross_vault_area(const CrossVault& vault, bool groin) {
  const auto webs = [&](bool over_x) {  // the two webs whose section lies over x, or over y
    const HalfProfile& p = vault.over(over_x);
    const double weighted = weighted_arc(p) / std::sin(p.foot), half = over_x ? vault.b : vault.a;
    return 4 * half * (groin ? profile_length(p) - weighted : weighted);
  };
  return webs(true) + webs(false);
}

double least_radius_of(const ShapeSpec& spec) {
  switch (spec.kind) {
    case ShapeKind::flat:
      return 2;  // any tolerance serves
    case ShapeKind::apse:
    case ShapeKind::drum:
      return 0.5 * spec.span;
    case ShapeKind::sail:
    case ShapeKind::pendentive:
      return spec.side / kSqrt2;
    case ShapeKind::cone:
      return 0.5 * std::min(spec.span, spec.top_span);
    case ShapeKind::annular:
      return std::min(spec.inner, 0.5 * (spec.outer - spec.inner));
    case ShapeKind::groin:
    case ShapeKind::cloister:
      return std::min(least_radius(profile_over_span(spec)), least_radius(profile_over_length(spec)));
    default:
      return least_radius(profile_over_span(spec));
  }
}

// Triangles of a doubly curved wall at a tolerance of 1 m: they fall in proportion to it.
double triangles_by_tolerance(const ShapeSpec& spec) {
  // On a sphere two legs of 2 sqrt(R d) make a triangle of 2 R d.
  if (spec.kind == ShapeKind::apse) return kPi * 0.25 * spec.span;
  if (spec.kind == ShapeKind::dome) return closed_form_area(spec) / (2 * segment_sizes(spec.span, spec.rise).radius);
  if (spec.kind == ShapeKind::sail || spec.kind == ShapeKind::pendentive)
    return closed_form_area(spec) * kSqrt2 / (2 * spec.side);
  if (spec.kind == ShapeKind::annular)
    return kPi * turn_of(spec) * std::sqrt(0.5 * (spec.outer - spec.inner) * spec.outer) / 2;
  return 0;
}

}  // namespace

double default_tolerance(const ShapeSpec& spec) {
  double finest = 5e-5 * least_radius_of(spec);
  if (spec.kind == ShapeKind::cone) finest = std::max(finest, 2.5e-6 * std::max(spec.span, spec.top_span));
  if (spec.kind == ShapeKind::annular)
    finest = std::max(finest, std::min(5e-6 * spec.outer, 2.5e-5 * (spec.outer - spec.inner)));
  return std::max(std::min(1e-4, finest), triangles_by_tolerance(spec) / kMostTriangles);
}

double closed_form_area(const ShapeSpec& spec) {
  switch (spec.kind) {
    case ShapeKind::flat:
      return spec.width * spec.height;
    case ShapeKind::barrel:
    case ShapeKind::elliptical_barrel:
    case ShapeKind::pointed_barrel:
      return 2 * profile_length(profile_over_span(spec)) * spec.length;  // developed
    case ShapeKind::groin:
      return cross_vault_area(cross_vault(spec), true);
    case ShapeKind::cloister:
      return cross_vault_area(cross_vault(spec), false);
    case ShapeKind::sail:
      return kPi * spec.side * spec.side * (kSqrt2 - 1);  // 2 pi R^2 (sqrt 2 - 1)
    case ShapeKind::pendentive:
      return kPi * spec.side * spec.side * (3 / kSqrt2 - 2) / 4;  // a quarter of sail less cap
    case ShapeKind::dome:
      return kPi * (0.25 * spec.span * spec.span + spec.rise * spec.rise);  // spherical cap
    case ShapeKind::apse:
      return kPi * 0.5 * spec.span * (spec.height + 0.5 * spec.span);  // half drum, quarter sphere
    case ShapeKind::drum:
      return 0.5 * spec.span * turn_of(spec) * spec.height;
    case ShapeKind::lunette: {  // circular segment
      const auto [r, angle] = segment_sizes(spec.span, spec.rise);
      return r * r * (angle - std::sin(angle) * std::cos(angle));
    }
    case ShapeKind::cone: {
      const ConeSizes cone = cone_sizes(spec);
      return 0.5 * cone.angle * (cone.foot + cone.top) * cone.slope;
    }
    case ShapeKind::annular:  // Pappus: half circle of the section round the mean radius; the halves' moments cancel
      return turn_of(spec) * 0.5 * (spec.inner + spec.outer) * kPi * 0.5 * (spec.outer - spec.inner);
  }
  return 0;
}

}  // namespace pontata
