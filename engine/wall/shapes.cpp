#include "engine/wall/shapes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "engine/base/units.h"
#include "engine/wall/shape_sizes.h"

namespace pontata {

namespace {

constexpr double kLeastSide = 1e-3;  // m
constexpr double kGreatestSide = 500;

struct ShapeEntry {
  ShapeKind kind;
  std::string_view name;
  std::vector<std::string_view> measures;
};

const std::array<ShapeEntry, 4>& entries() {
  static const std::array<ShapeEntry, 4> kEntries{{{ShapeKind::flat, "flat", {"width", "height"}},
                                                   {ShapeKind::barrel, "barrel", {"span", "length", "rise"}},
                                                   {ShapeKind::dome, "dome", {"span", "rise"}},
                                                   {ShapeKind::apse, "apse", {"span", "height"}}}};
  return kEntries;
}

const ShapeEntry& entry(ShapeKind kind) {
  for (const auto& e : entries())
    if (e.kind == kind) return e;
  throw std::logic_error("a shape without an entry");
}

constexpr std::array<ShapeMeasure, 11> kMeasures{
    {{"width", &ShapeSpec::width, false, "its width"},
     {"height", &ShapeSpec::height, false, "its height; apse: the height of its drum"},
     {"span", &ShapeSpec::span, false, "clear width at the springing; cone: across at the foot"},
     {"length", &ShapeSpec::length, false, "its length"},
     {"rise", &ShapeSpec::rise, false, "height of the crown above the springing"},
     {"radius", &ShapeSpec::radius, false, "radius of the two arcs"},
     {"side", &ShapeSpec::side, false, "side of its square plan"},
     {"top-span", &ShapeSpec::top_span, false, "across at the top"},
     {"inner", &ShapeSpec::inner, false, "radius in plan of the inner springing"},
     {"outer", &ShapeSpec::outer, false, "radius in plan of the outer springing"},
     {"angle", &ShapeSpec::angle_deg, true, "how far it turns in plan; 360deg is all round"}}};

double measure_named(const ShapeSpec& spec, std::string_view name) { return spec.*shape_measure(name).value; }

Problem bad_measure(const ShapeSpec& spec, std::string_view measure, std::string what, std::string remedy) {
  return {std::move(what), std::string(shape_name(spec.kind)) + " " + std::string(measure), std::move(remedy)};
}

}  // namespace

Vec3 apply_direction(const Placement3& placement, const Vec3& own) {
  const double turn = placement.turn_deg * std::numbers::pi / 180;
  const double c = std::cos(turn), s = std::sin(turn);
  return {c * own.x - s * own.y, s * own.x + c * own.y, own.z};
}

Vec3 apply(const Placement3& placement, const Vec3& own) { return placement.at + apply_direction(placement, own); }

std::span<const ShapeMeasure> shape_measures() { return kMeasures; }

const ShapeMeasure& shape_measure(std::string_view name) {
  for (const auto& measure : kMeasures)
    if (measure.name == name) return measure;
  throw std::logic_error("no measure named " + std::string(name));
}

std::span<const ShapeKind> all_shapes() {
  static constexpr std::array<ShapeKind, 4> kAll{ShapeKind::flat, ShapeKind::barrel, ShapeKind::dome, ShapeKind::apse};
  return kAll;
}

std::string_view shape_name(ShapeKind kind) { return entry(kind).name; }

Result<ShapeKind> shape_named(std::string_view name) {
  std::string known;
  for (const auto& e : entries()) {
    if (e.name == name) return e.kind;
    known += (known.empty() ? "" : ", ") + std::string(e.name);
  }
  return Problem{"there is no shape named '" + std::string(name) + "'", "", "Known shapes: " + known + "."};
}

std::vector<std::string_view> measures_of(ShapeKind kind) { return entry(kind).measures; }

Outcome validate(const ShapeSpec& spec) {
  for (const auto measure : measures_of(spec.kind)) {
    const double value = measure_named(spec, measure);
    if (!std::isfinite(value) || value <= 0)
      return bad_measure(spec, measure, "this length must be more than zero", "Give it in metres, for example 4.2m.");
    if (value < kLeastSide || value > kGreatestSide)
      return bad_measure(spec, measure, format_number(value) + " m is outside 1 mm to 500 m", "Check the unit.");
  }
  const bool vaulted = spec.kind == ShapeKind::barrel || spec.kind == ShapeKind::dome;
  if (vaulted && spec.rise > 0.5 * spec.span * (1 + 1e-12))
    return bad_measure(
        spec, "rise",
        "a rise of " + format_number(spec.rise) + " m is more than half the span of " + format_number(spec.span) + " m",
        "Give a rise of " + format_number(0.5 * spec.span) + " m or less.");
  return Done{};
}

SegmentSizes segment_sizes(double span, double rise) {
  const double half = 0.5 * span;
  return {(half * half + rise * rise) / (2 * rise), 2 * std::atan2(rise, half)};
}

double default_tolerance(const ShapeSpec& spec) {
  // On a sphere two legs of 2 sqrt(R d) make a triangle of 2 R d; the floor keeps that to kMostTriangles.
  constexpr double kPi = std::numbers::pi;
  double radius = 2, sphere_area = 0;  // a flat wall: any tolerance serves
  if (spec.kind == ShapeKind::apse) radius = 0.5 * spec.span, sphere_area = kPi * radius * radius;
  if (spec.kind == ShapeKind::barrel || spec.kind == ShapeKind::dome)
    radius = segment_sizes(spec.span, spec.rise).radius;
  if (spec.kind == ShapeKind::dome) sphere_area = closed_form_area(spec);
  return std::max(std::min(1e-4, 5e-5 * radius), sphere_area / (2 * radius * kMostTriangles));
}

double closed_form_area(const ShapeSpec& spec) {
  constexpr double kPi = std::numbers::pi;
  switch (spec.kind) {
    case ShapeKind::flat:
      return spec.width * spec.height;
    case ShapeKind::barrel: {  // developed: arc times length
      const auto segment = segment_sizes(spec.span, spec.rise);
      return 2 * segment.half_angle * segment.radius * spec.length;
    }
    case ShapeKind::dome:  // spherical cap, pi (a^2 + h^2)
      return kPi * (0.25 * spec.span * spec.span + spec.rise * spec.rise);
    case ShapeKind::apse: {  // half drum and quarter sphere
      const double r = 0.5 * spec.span;
      return kPi * r * spec.height + kPi * r * r;
    }
    default:
      break;
  }
  return 0;
}

}  // namespace pontata
