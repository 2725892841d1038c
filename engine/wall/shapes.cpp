#include "engine/wall/shapes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <stdexcept>

#include "engine/base/units.h"

namespace pontata {

namespace {

constexpr double kLeastSide = 1e-3;  // m
constexpr double kGreatestSide = 500;
constexpr double kLeastAngle = 1;  // degrees

struct ShapeEntry {
  ShapeKind kind;
  std::string_view name;
  std::vector<std::string_view> measures;
};

const std::array<ShapeEntry, 14>& entries() {
  using enum ShapeKind;
  static const std::array<ShapeEntry, 14> kEntries{
      {{flat, "flat", {"width", "height"}},
       {barrel, "barrel", {"span", "length", "rise"}},
       {elliptical_barrel, "elliptical-barrel", {"span", "length", "rise"}},
       {pointed_barrel, "pointed-barrel", {"span", "length", "radius"}},
       {groin, "groin", {"span", "length", "rise"}},
       {cloister, "cloister", {"span", "length", "rise"}},
       {sail, "sail", {"side"}},
       {dome, "dome", {"span", "rise"}},
       {apse, "apse", {"span", "height"}},
       {drum, "drum", {"span", "height", "angle"}},
       {lunette, "lunette", {"span", "rise"}},
       {pendentive, "pendentive", {"side"}},
       {cone, "cone", {"span", "top-span", "height", "angle"}},
       {annular, "annular", {"inner", "outer", "angle"}}}};
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

Problem bad_measure(const ShapeSpec& spec, std::string_view measure, std::string what, std::string remedy) {
  return {std::move(what), std::string(shape_name(spec.kind)) + " " + std::string(measure), std::move(remedy)};
}

std::string metres(double value) { return format_number(value) + " m"; }

std::optional<Problem> size_problem(const ShapeSpec& spec, std::string_view name) {
  const ShapeMeasure& measure = shape_measure(name);
  const double value = spec.*measure.value;
  if (!std::isfinite(value) || value <= 0)
    return bad_measure(
        spec, name, measure.is_angle ? "this angle must be more than zero" : "this length must be more than zero",
        measure.is_angle ? "Give it in degrees, for example 90deg." : "Give it in metres, for example 4.2m.");
  if (measure.is_angle && (value < kLeastAngle || value > 360))
    return bad_measure(spec, name, format_number(value) + " degrees is outside 1 to 360 degrees",
                       "All round is 360deg.");
  if (!measure.is_angle && (value < kLeastSide || value > kGreatestSide))
    return bad_measure(spec, name, metres(value) + " is outside 1 mm to 500 m", "Check the unit.");
  return std::nullopt;
}

// Measures that are possible one by one but not together.
std::optional<Problem> proportion_problem(const ShapeSpec& spec) {
  using enum ShapeKind;
  const double half = 0.5 * spec.span;
  const bool rises =
      spec.kind == barrel || spec.kind == dome || spec.kind == groin || spec.kind == cloister || spec.kind == lunette;
  if (rises && spec.rise > half * (1 + 1e-12))
    return bad_measure(spec, "rise",
                       "a rise of " + metres(spec.rise) + " is more than half the span of " + metres(spec.span),
                       "Give a rise of " + metres(half) + " or less.");
  if (spec.kind == pointed_barrel && spec.radius < half * (1 - 1e-12))
    return bad_measure(
        spec, "radius",
        "arcs of a radius of " + metres(spec.radius) + " do not meet over a span of " + metres(spec.span),
        "Give a radius of " + metres(half) + " or more; the span itself makes the equilateral arch.");
  if (spec.kind == annular && spec.outer - spec.inner < kLeastSide)
    return bad_measure(
        spec, "outer",
        "an outer radius of " + metres(spec.outer) + " leaves no width beyond the inner one of " + metres(spec.inner),
        "Both are radii in plan, to the two springings; give an outer radius above the inner one.");
  return std::nullopt;
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
  static const auto kAll = [] {
    std::array<ShapeKind, 14> out{};
    std::transform(entries().begin(), entries().end(), out.begin(), [](const ShapeEntry& e) { return e.kind; });
    return out;
  }();
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
  for (const auto name : measures_of(spec.kind))
    if (auto problem = size_problem(spec, name)) return *problem;
  if (auto problem = proportion_problem(spec)) return *problem;
  return Done{};
}

}  // namespace pontata
