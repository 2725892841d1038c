#include "engine/wall/shape_point.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/wall/shape_sizes.h"
#include "engine/wall/shape_surfaces.h"

namespace pontata {

namespace {

constexpr double kPi = std::numbers::pi;

Turn turn_to(double phi) { return {phi, std::cos(phi), std::sin(phi)}; }
double side_of(double value) { return value < 0 ? -1 : 1; }

SurfacePoint on_vault(const ShapeSpec& spec, const Vec2& address) {
  const HalfProfile profile = profile_over_span(spec);
  const double from_crown = profile_length(profile) - address.y;
  return vault_point(profile, address.x, side_of(from_crown), profile_chi(profile, std::abs(from_crown)));
}

SurfacePoint on_groin(const ShapeSpec& spec, const Vec2& address) {
  const CrossVault vault = cross_vault(spec);
  const double x = address.x - vault.a, y = vault.b - address.y;
  const bool over_x = std::abs(x) * vault.b < std::abs(y) * vault.a;
  const double across = over_x ? x : y, half = over_x ? vault.a : vault.b;
  const double share = std::min(1.0, std::abs(across) / half);
  return groin_point(vault, over_x, side_of(across), std::asin(share * std::sin(vault.over_span.foot)), over_x ? y : x);
}

SurfacePoint on_cloister(const ShapeSpec& spec, const Vec2& address) {
  const CrossVault vault = cross_vault(spec);
  const double right = address.x - profile_length(vault.over_length);
  const double down = profile_length(vault.over_span) - address.y;  // toward y > 0
  const double chi_x = profile_chi(vault.over_length, std::abs(right));
  const double chi_y = profile_chi(vault.over_span, std::abs(down));
  const bool over_x = chi_x >= chi_y;
  const double chi = over_x ? chi_x : chi_y;
  const double reach = profile_arc(over_x ? vault.over_span : vault.over_length, chi);  // of the chart, along the line
  const double line =
      reach > 0 ? (over_x ? down : right) / reach * plan_share(vault, chi) * (over_x ? vault.b : vault.a) : 0;
  return cloister_point(vault, over_x, side_of(over_x ? right : down), chi, line);
}

SurfacePoint on_sphere(const ShapeSpec& spec, const Vec2& address) {
  const SphereFrame frame = sphere_frame(spec);
  const Vec2 off = address - frame.origin;
  return sphere_point(frame, std::hypot(off.x, off.y) / frame.radius, std::atan2(-off.y, off.x));
}

SurfacePoint on_apse(const ShapeSpec& spec, const Vec2& address) {
  const double r = 0.5 * spec.span;
  if (address.y <= spec.height) return drum_point(r, address.y, turn_to(address.x / r));
  const double theta = std::min(kPi / 2, (address.y - spec.height) / r), ring = r * std::cos(theta);
  const double off = theta < kPi / 2 ? (address.x - r * kPi / 2) / ring : 0;
  return apse_dome_point(spec, theta, turn_to(kPi / 2 + off));
}

SurfacePoint on_cone(const ShapeSpec& spec, const Vec2& address) {
  // From the middle of the foot, with the apex 1 / share foot radii above: the circle of radius r about the axis lies
  // at r / share from the apex, so share * (distance to the apex) = r and share * (angle off the vertical) = beta.
  const ConeSizes cone = cone_sizes(spec);
  const Vec2 middle = cone_point(spec, 0, turn_to(0.5 * cone.angle)).address;
  const Vec2 off = address - middle;
  const double up = cone.foot - cone.share * off.y, across = cone.share * off.x;
  const double beta = std::atan2(across, up);
  const double r = std::hypot(across, up);
  const double phi = cone.share != 0 ? beta / cone.share : off.x / cone.foot;
  // foot - r = share * slope * fraction, without the difference of two nearly equal numbers.
  const double fraction = cone.share != 0
                              ? (2 * cone.foot * off.y - cone.share * (off.x * off.x + off.y * off.y)) / (cone.foot + r)
                              : off.y;
  return cone_point(spec, fraction / cone.slope, turn_to(0.5 * cone.angle + phi));
}

SurfacePoint on_annular(const ShapeSpec& spec, const Vec2& address) {
  const HalfProfile profile = profile_over_span(spec);
  const double from_crown = profile_length(profile) - address.y;
  return annular_point(spec, side_of(from_crown), profile_chi(profile, std::abs(from_crown)),
                       turn_to(address.x / (0.5 * (spec.inner + spec.outer))));
}

SurfacePoint surface_point(const ShapeSpec& spec, const Vec2& address) {
  switch (spec.kind) {
    case ShapeKind::flat:
    case ShapeKind::lunette:
      return plane_point(address.x, address.y);
    case ShapeKind::barrel:
    case ShapeKind::elliptical_barrel:
    case ShapeKind::pointed_barrel:
      return on_vault(spec, address);
    case ShapeKind::groin:
      return on_groin(spec, address);
    case ShapeKind::cloister:
      return on_cloister(spec, address);
    case ShapeKind::dome:
    case ShapeKind::sail:
    case ShapeKind::pendentive:
      return on_sphere(spec, address);
    case ShapeKind::apse:
      return on_apse(spec, address);
    case ShapeKind::drum:
      return drum_point(0.5 * spec.span, address.y, turn_to(2 * address.x / spec.span));
    case ShapeKind::cone:
      return on_cone(spec, address);
    case ShapeKind::annular:
      return on_annular(spec, address);
  }
  return plane_point(address.x, address.y);
}

}  // namespace

ShapePoint shape_point(const ShapeSpec& spec, const Vec2& address) {
  const SurfacePoint p = surface_point(spec, address);
  return {p.place, p.normal};
}

}  // namespace pontata
