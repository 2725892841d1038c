#include "engine/wall/shape_sketch.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "engine/wall/shape_sizes.h"
#include "engine/wall/shape_surfaces.h"

namespace pontata {

namespace {

using Line = std::vector<Vec3>;
using Lines = std::vector<Line>;
constexpr double kPi = std::numbers::pi;
constexpr int kPieces = 32;

// Points at fractions 0..1 of a line.
Line traced(const std::function<Vec3(double)>& at, int pieces = kPieces) {
  Line line;
  for (int i = 0; i <= pieces; ++i) line.push_back(at(static_cast<double>(i) / pieces));
  return line;
}

Line straight(const Vec3& a, const Vec3& b) { return {a, b}; }

Lines plane(const ShapeSpec& spec) {
  if (spec.kind == ShapeKind::flat) {
    const double w = spec.width, h = spec.height;
    return {{{0, 0, 0}, {w, 0, 0}, {w, 0, h}, {0, 0, h}, {0, 0, 0}}};
  }
  const HalfProfile arc = profile_over_span(spec);
  return {traced([&](double f) {
            const double chi = arc.foot * (2 * f - 1);
            return Vec3{0.5 * spec.span + arc.across * std::sin(chi), 0, profile_place(arc, chi).y};
          }),
          straight({0, 0, 0}, {spec.span, 0, 0})};
}

// The whole section at x, from one springing over the crown to the other.
Line section(const HalfProfile& profile, double x) {
  return traced([&](double f) {
    const double side = f < 0.5 ? 1 : -1;
    return vault_point(profile, x, side, profile.crown + (profile.foot - profile.crown) * std::abs(1 - 2 * f)).place;
  });
}

Lines vault(const ShapeSpec& spec) {
  const HalfProfile profile = profile_over_span(spec);
  Lines lines{section(profile, 0), section(profile, spec.length)};
  for (const double side : {1.0, -1.0})
    lines.push_back(straight(vault_point(profile, 0, side, profile.foot).place,
                             vault_point(profile, spec.length, side, profile.foot).place));
  if (profile.crown > 0)
    lines.push_back(straight(vault_point(profile, 0, 1, profile.crown).place,
                             vault_point(profile, spec.length, 1, profile.crown).place));
  return lines;
}

// The arrises, and round the plan the arches of a groin or the springing of a cloister.
Lines cross(const ShapeSpec& spec) {
  const CrossVault vault = cross_vault(spec);
  const double foot = vault.over_span.foot;
  const bool groin = spec.kind == ShapeKind::groin;
  Lines lines;
  for (const double slope : {1.0, -1.0})
    lines.push_back(traced([&](double f) {
      const double chi = foot * (2 * f - 1), share = plan_share(vault, chi);
      return Vec3{vault.a * share, slope * vault.b * share, profile_place(vault.over_span, chi).y};
    }));
  for (const bool over_x : {true, false})
    for (const double end : {1.0, -1.0})
      lines.push_back(traced([&](double f) {
        const double share = std::sin(foot * (2 * f - 1)) / std::sin(foot);
        const double z = groin ? profile_place(vault.over_span, foot * (2 * f - 1)).y : 0;
        return over_x ? Vec3{vault.a * share, end * vault.b, z} : Vec3{end * vault.a, vault.b * share, z};
      }));
  return lines;
}

// Half of a parallel or meridian of a sphere is told by where it begins and ends.
Line parallel(const SphereFrame& frame, double theta, double from, double to) {
  return traced([&](double f) { return sphere_point(frame, theta, from + (to - from) * f).place; });
}
Line meridian(const SphereFrame& frame, double phi, double from, double to) {
  return traced([&](double f) { return sphere_point(frame, from + (to - from) * f, phi).place; }, kPieces / 2);
}

Lines dome(const ShapeSpec& spec) {
  const SphereFrame frame = sphere_frame(spec);
  Lines lines{parallel(frame, frame.foot, 0, 2 * kPi), parallel(frame, frame.foot / 2, 0, 2 * kPi)};
  for (int i = 0; i < 4; ++i) lines.push_back(meridian(frame, i * kPi / 2, 0, frame.foot));
  return lines;
}

// Half a circle in the upright plane over the side of the square that phi leads to, from `from` to `to` (psi, from the
// top).
Line square_edge(const ShapeSpec& spec, int quarter, double from, double to) {
  return traced([&](double f) {
    const double half = 0.5 * spec.side, psi = from + (to - from) * f;
    const double c = std::cos(quarter * kPi / 2), s = std::sin(quarter * kPi / 2), along = half * std::sin(psi);
    return Vec3{c * half - s * along, s * half + c * along, half * std::cos(psi)};
  });
}

Lines sail(const ShapeSpec& spec) {
  const SphereFrame frame = sphere_frame(spec);
  if (spec.kind == ShapeKind::pendentive)
    return {parallel(frame, kPi / 4, 0, kPi / 2), square_edge(spec, 0, 0, kPi / 2), square_edge(spec, 1, 0, -kPi / 2)};
  Lines lines;
  for (int i = 0; i < 4; ++i) {
    lines.push_back(square_edge(spec, i, -kPi / 2, kPi / 2));
    lines.push_back(meridian(frame, kPi / 4 + i * kPi / 2, 0, kPi / 2));
  }
  return lines;
}

// Round the axis at one height, and the upright or sloping lines at both ends of the turn.
Lines turned(double angle, const std::function<Vec3(const Turn&, double)>& at, bool full) {
  Lines lines;
  for (const double up : {0.0, 1.0}) lines.push_back(traced([&](double f) { return at(turn_at(angle, f), up); }));
  for (const double f : {0.0, 0.5, 1.0})
    if (!full || f < 1) lines.push_back(traced([&](double up) { return at(turn_at(angle, f), up); }, kPieces / 2));
  return lines;
}

Lines turn(const ShapeSpec& spec) {
  const bool full = spec.angle_deg >= 360;
  if (spec.kind == ShapeKind::drum)
    return turned(
        turn_of(spec), [&](const Turn& t, double up) { return drum_point(0.5 * spec.span, up * spec.height, t).place; },
        full);
  if (spec.kind == ShapeKind::cone)
    return turned(
        turn_of(spec), [&](const Turn& t, double up) { return cone_point(spec, up, t).place; }, full);
  auto lines = turned(
      turn_of(spec),
      [&](const Turn& t, double up) {
        return annular_point(spec, up < 0.5 ? 1 : -1, kPi / 2 * std::abs(1 - 2 * up), t).place;
      },
      full);
  lines.push_back(traced([&](double f) { return annular_point(spec, 1, 0, turn_at(turn_of(spec), f)).place; }));
  return lines;
}

Lines apse(const ShapeSpec& spec) {
  Lines lines = turned(
      kPi, [&](const Turn& t, double up) { return drum_point(0.5 * spec.span, up * spec.height, t).place; }, false);
  for (const double f : {0.0, 0.5, 1.0})
    lines.push_back(
        traced([&](double up) { return apse_dome_point(spec, kPi / 2 * up, turn_at(kPi, f)).place; }, kPieces / 2));
  return lines;
}

}  // namespace

std::vector<std::vector<Vec3>> shape_sketch(const ShapeSpec& spec) {
  switch (spec.kind) {
    case ShapeKind::flat:
    case ShapeKind::lunette:
      return plane(spec);
    case ShapeKind::barrel:
    case ShapeKind::elliptical_barrel:
    case ShapeKind::pointed_barrel:
      return vault(spec);
    case ShapeKind::groin:
    case ShapeKind::cloister:
      return cross(spec);
    case ShapeKind::dome:
      return dome(spec);
    case ShapeKind::sail:
    case ShapeKind::pendentive:
      return sail(spec);
    case ShapeKind::apse:
      return apse(spec);
    case ShapeKind::drum:
    case ShapeKind::cone:
    case ShapeKind::annular:
      return turn(spec);
  }
  return {};
}

ShapeSpec example_of(ShapeKind kind) {
  constexpr ShapeSpec kOrdinary{.kind = ShapeKind::flat,
                                .width = 3,
                                .height = 2.5,
                                .span = 4,
                                .length = 6,
                                .rise = 2,
                                .radius = 4,
                                .side = 4,
                                .top_span = 3,
                                .inner = 3,
                                .outer = 7,
                                .angle_deg = 180};
  ShapeSpec out;
  out.kind = kind;
  for (const auto name : measures_of(kind)) out.*shape_measure(name).value = kOrdinary.*shape_measure(name).value;
  if (kind == ShapeKind::elliptical_barrel) out.rise = 1.5;
  if (kind == ShapeKind::groin || kind == ShapeKind::cloister) out.length = out.span;
  if (kind == ShapeKind::annular) out.angle_deg = 90;
  return out;
}

}  // namespace pontata
