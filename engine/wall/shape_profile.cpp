#include "engine/wall/shape_profile.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/wall/shape_sizes.h"

namespace pontata {

namespace {

constexpr double kUpright = std::numbers::pi / 2;

// Arc from the top of the ellipse (chi = 0).
double arc_from_top(const HalfProfile& p, double chi) {
  if (p.across == p.up) return p.up * chi;
  const double long_axis = std::max(p.across, p.up), short_axis = std::min(p.across, p.up);
  const double k = std::sqrt((long_axis - short_axis) * (long_axis + short_axis)) / long_axis;
  if (p.across > p.up) return long_axis * std::ellint_2(k, chi);
  return long_axis * (std::comp_ellint_2(k) - std::ellint_2(k, kUpright - chi));
}

// The longest step from chi that keeps to the tolerance: sagitta s^2 kappa / 8 with kappa = across up / speed^3.
double longest_step(const HalfProfile& p, double chi, double tolerance, double longest) {
  constexpr double kMostTurn = 0.4;  // radians of tangent a step
  const double speed = profile_speed(p, chi), product = p.across * p.up;
  return std::min({std::sqrt(8 * tolerance * speed / product), kMostTurn * speed * speed / product, longest / speed});
}

// Places reached from the crown by steps `share` of the longest allowed, up to `count` of them or to the foot.
std::vector<double> march(std::span<const HalfProfile> profiles, double tolerance, double longest, double share) {
  const double foot = profiles[0].foot;
  const auto step = [&](double chi) {
    double least = foot;
    for (const auto& p : profiles) least = std::min(least, longest_step(p, chi, tolerance, longest));
    return share * least;
  };
  std::vector<double> chis{profiles[0].crown};
  while (chis.back() < foot) {
    const double half = chis.back() + 0.5 * step(chis.back());
    chis.push_back(chis.back() + step(std::min(half, foot)));
  }
  return chis;
}

}  // namespace

HalfProfile profile_over_span(const ShapeSpec& spec) {
  const double half = 0.5 * spec.span;
  if (spec.kind == ShapeKind::elliptical_barrel) return {half, spec.rise, 0, 0, kUpright};
  if (spec.kind == ShapeKind::annular) {
    const double r = 0.5 * (spec.outer - spec.inner);
    return {r, r, 0, 0, kUpright};
  }
  if (spec.kind == ShapeKind::pointed_barrel) {
    const double r = std::max(spec.radius, half);
    return {r, r, half - r, std::asin((r - half) / r), kUpright};
  }
  const SegmentSizes segment = segment_sizes(spec.span, spec.rise);
  return {segment.radius, segment.radius, 0, 0, segment.half_angle};
}

HalfProfile profile_over_length(const ShapeSpec& spec) {
  HalfProfile out = profile_over_span(spec);
  if (spec.length != spec.span) out.across *= spec.length / spec.span;
  return out;
}

Vec2 profile_place(const HalfProfile& p, double chi) {
  return {p.centre + p.across * std::sin(chi),
          2 * p.up * std::sin(0.5 * (p.foot - chi)) * std::sin(0.5 * (p.foot + chi))};
}

Vec2 profile_normal(const HalfProfile& p, double chi) {
  if (p.across == p.up) return {-std::sin(chi), -std::cos(chi)};
  return glm::normalize(Vec2{-p.up * std::sin(chi), -p.across * std::cos(chi)});
}

double profile_speed(const HalfProfile& p, double chi) {
  return p.across == p.up ? p.up : std::hypot(p.across * std::cos(chi), p.up * std::sin(chi));
}

double profile_arc(const HalfProfile& p, double chi) {
  if (p.across == p.up) return p.up * (chi - p.crown);
  return arc_from_top(p, chi) - arc_from_top(p, p.crown);
}

double profile_length(const HalfProfile& p) { return profile_arc(p, p.foot); }

double profile_chi(const HalfProfile& p, double arc) {
  const double length = profile_length(p);
  if (!(arc > 0)) return p.crown;
  if (arc >= length) return p.foot;
  double low = p.crown, high = p.foot, chi = low + (high - low) * (arc / length);
  for (int i = 0; i < 100 && p.across != p.up; ++i) {  // Newton's steps, kept between the two
    const double off = profile_arc(p, chi) - arc;
    (off > 0 ? high : low) = chi;
    double next = chi - off / profile_speed(p, chi);
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (std::abs(next - chi) < 1e-16 * p.foot) break;
    chi = next;
  }
  return chi;
}

double least_radius(const HalfProfile& p) {  // monotone between the ends
  const auto radius = [&](double chi) { return std::pow(profile_speed(p, chi), 3) / (p.across * p.up); };
  return std::min(radius(p.crown), radius(p.foot));
}

std::vector<double> profile_steps(std::span<const HalfProfile> profiles, double tolerance, double longest, int least) {
  const double crown = profiles[0].crown, range = profiles[0].foot - crown;
  const bool circles = std::all_of(profiles.begin(), profiles.end(), [](const auto& p) { return p.across == p.up; });
  const auto even = [&](int count) {
    std::vector<double> chis;
    for (int i = 0; i <= count; ++i) chis.push_back(crown + range * i / count);
    return chis;
  };
  if (circles) {
    double step = range / least;
    for (const auto& p : profiles) step = std::min({step, std::sqrt(8 * tolerance / p.up), longest / p.up});
    return even(steps(range, step, least));
  }
  // Once to count the steps; once more with steps shortened so that the last ends at the foot, or nearly.
  constexpr double kCare = 0.98;  // curvature differs along a step
  auto chis = march(profiles, tolerance, longest, kCare);
  const auto n = chis.size() - 1;
  const double last = (profiles[0].foot - chis[n - 1]) / (chis[n] - chis[n - 1]);
  if (static_cast<int>(n) <= least) return even(least);
  chis = march(profiles, tolerance, longest, kCare * (static_cast<double>(n - 1) + last) / static_cast<double>(n));
  chis.resize(std::min(chis.size(), n + 1));
  const double stretch = range / (chis.back() - crown);
  for (auto& chi : chis) chi = crown + (chi - crown) * stretch;
  chis.back() = profiles[0].foot;
  return chis;
}

}  // namespace pontata
