#include "engine/wall/shape_surfaces.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/wall/shape_sizes.h"

namespace pontata {

namespace {

constexpr double kPi = std::numbers::pi;

// sin x / x.
double sinc(double x) { return x == 0 ? 1 : std::sin(x) / x; }

// A point of the web and its normal, without a chart place.
SurfacePoint web_point(const CrossVault& vault, bool over_x, double side, double chi, double line) {
  const Vec2 place = profile_place(vault.over(over_x), chi), normal = profile_normal(vault.over(over_x), chi);
  if (over_x) return {{side * place.x, line, place.y}, {side * normal.x, 0, normal.y}, {0, 0}};
  return {{line, side * place.x, place.y}, {0, side * normal.x, normal.y}, {0, 0}};
}

// Corner of the box from the crown: how far the chart reaches to the left and below.
Vec2 sphere_reach(const ShapeSpec& spec, double radius, double foot) {
  const double corner = radius * foot * std::numbers::sqrt2 / 2;  // the foot over a corner of the plan
  if (spec.kind == ShapeKind::sail) return {corner, corner};
  if (spec.kind == ShapeKind::pendentive) return {0, corner};
  return {radius * foot, radius * foot};
}

}  // namespace

SurfacePoint plane_point(double x, double z) { return {{x, 0, z}, {0, -1, 0}, {x, z}}; }

SurfacePoint vault_point(const HalfProfile& profile, double x, double side, double chi) {
  const Vec2 place = profile_place(profile, chi), normal = profile_normal(profile, chi);
  return {{x, side * place.x, place.y},
          {0, side * normal.x, normal.y},
          {x, profile_length(profile) - side * profile_arc(profile, chi)}};
}

CrossVault cross_vault(const ShapeSpec& spec) {
  return {0.5 * spec.length, 0.5 * spec.span, profile_over_length(spec), profile_over_span(spec)};
}

double plan_share(const CrossVault& vault, double chi) { return std::sin(chi) / std::sin(vault.over_span.foot); }

SurfacePoint groin_point(const CrossVault& vault, bool over_x, double side, double chi, double line) {
  SurfacePoint p = web_point(vault, over_x, side, chi, line);
  p.address = {vault.a + p.place.x, vault.b - p.place.y};
  return p;
}

SurfacePoint cloister_point(const CrossVault& vault, bool over_x, double side, double chi, double line) {
  SurfacePoint p = web_point(vault, over_x, side, chi, line);
  const Vec2 arc{profile_arc(vault.over_length, chi), profile_arc(vault.over_span, chi)};
  const double share = plan_share(vault, chi);
  const double along = share > 0 ? line / (share * (over_x ? vault.b : vault.a)) : 0;  // -1..1 between the arrises
  const Vec2 part = over_x ? Vec2{side, along} : Vec2{along, side};
  p.address = {profile_length(vault.over_length) + part.x * arc.x, profile_length(vault.over_span) - part.y * arc.y};
  return p;
}

SphereFrame sphere_frame(const ShapeSpec& spec) {
  SphereFrame out;
  if (spec.kind == ShapeKind::dome) {
    const SegmentSizes segment = segment_sizes(spec.span, spec.rise);
    out.radius = segment.radius, out.foot = segment.half_angle;
  } else {  // the sphere stands on the corners of the square
    out.radius = spec.side / std::numbers::sqrt2, out.foot = kPi / 2;
  }
  out.origin = sphere_reach(spec, out.radius, out.foot);
  return out;
}

SurfacePoint sphere_point(const SphereFrame& frame, double theta, double phi) {
  const double c = std::cos(phi), s = std::sin(phi), across = std::sin(theta);
  const double z = 2 * frame.radius * std::sin(0.5 * (frame.foot - theta)) * std::sin(0.5 * (frame.foot + theta));
  return {{frame.radius * across * c, frame.radius * across * s, z},
          {-across * c, -across * s, -std::cos(theta)},
          frame.origin + frame.radius * theta * Vec2{c, -s}};
}

SurfacePoint sphere_point(const SphereFrame& frame, const Vec3& p) {
  const double across = std::hypot(p.x, p.y), arc = frame.radius * std::atan2(across, p.z);
  const Vec2 along = across > 0 ? Vec2{p.x / across, -p.y / across} : Vec2{1, 0};
  return {{p.x, p.y, p.z - frame.radius * std::cos(frame.foot)}, -glm::normalize(p), frame.origin + arc * along};
}

Turn turn_at(double angle, double fraction) {
  const double phi = angle * fraction;
  if (phi >= 2 * kPi) return {phi, 1, 0};
  return {phi, std::cos(phi), std::sin(phi)};
}

SurfacePoint drum_point(double radius, double z, const Turn& turn) {
  return {turn.out(radius, z), turn.out(-1, 0), {radius * turn.phi, z}};
}

SurfacePoint cone_point(const ShapeSpec& spec, double fraction_up, const Turn& turn) {
  // Laid flat, a circle of radius r about the axis is one of radius r / share about the apex: from the middle of the
  // foot, u = r sin(beta) / share, v = slope fraction + r (1 - cos(beta)) / share with beta = share (phi - angle / 2).
  const ConeSizes cone = cone_sizes(spec);
  const double r = cone.foot + (cone.top - cone.foot) * fraction_up;
  const auto flat = [&](double radius, double up, double phi) {
    const double off = phi - 0.5 * cone.angle, beta = cone.share * off;
    const double half = sinc(0.5 * beta) * off;
    return Vec2{radius * off * sinc(beta), cone.slope * up + 0.5 * radius * cone.share * half * half};
  };
  const double widest = std::min(0.5 * cone.angle, cone.share != 0 ? 0.5 * kPi / std::abs(cone.share) : kPi);
  const double left = std::max(cone.foot, cone.top) * widest * sinc(cone.share * widest);
  const double low = std::min({0.0, flat(cone.foot, 0, 0).y, flat(cone.top, 1, 0).y});
  const double level = spec.height / cone.slope;
  const Vec3 out = turn.out(-level, -cone.share);
  return {turn.out(r, spec.height * fraction_up), out, flat(r, fraction_up, turn.phi) - Vec2{-left, low}};
}

SurfacePoint apse_dome_point(const ShapeSpec& spec, double theta, const Turn& turn) {
  const double r = 0.5 * spec.span, c = std::cos(theta), s = std::sin(theta);
  return {turn.out(r * c, spec.height + r * s),
          turn.out(-c, -s),
          {r * kPi / 2 + r * c * (turn.phi - kPi / 2), spec.height + r * theta}};
}

SurfacePoint annular_point(const ShapeSpec& spec, double side, double chi, const Turn& turn) {
  const HalfProfile profile = profile_over_span(spec);
  const Vec2 place = profile_place(profile, chi), normal = profile_normal(profile, chi);
  const double mean = 0.5 * (spec.inner + spec.outer);
  return {turn.out(mean + side * place.x, place.y),
          turn.out(side * normal.x, normal.y),
          {mean * turn.phi, profile_length(profile) - side * profile_arc(profile, chi)}};
}

}  // namespace pontata
