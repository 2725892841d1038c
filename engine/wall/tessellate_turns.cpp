// Walls that turn about an upright axis: drum, cone, apse, annular vault.

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/wall/shape_sizes.h"
#include "engine/wall/tessellate_families.h"

namespace pontata {

namespace {

constexpr double kPi = std::numbers::pi;

// Chords of a turn on a circle of this radius.
int turn_steps(double angle, double radius, double tolerance, double longest) {
  const double step = std::min(std::sqrt(8 * radius * tolerance), longest);
  return steps(angle * radius, step, angle > kPi ? 8 : 4);
}

}  // namespace

void add_drum(TriangleRows& mesh, const ShapeSpec& spec, double tolerance) {
  const double r = 0.5 * spec.span, angle = turn_of(spec);
  const int columns = turn_steps(angle, r, tolerance, kAspect * spec.height);
  const int rows = straight_steps(spec.height, kAspect * angle * r / columns, columns);
  mesh.add_grid(columns, rows, [&](double u, double v) { return drum_point(r, v * spec.height, turn_at(angle, u)); });
}

void add_cone(TriangleRows& mesh, const ShapeSpec& spec, double tolerance) {
  const ConeSizes cone = cone_sizes(spec);
  const double widest = std::max(cone.foot, cone.top), mean = 0.5 * (cone.foot + cone.top);
  const int columns = turn_steps(cone.angle, widest, tolerance, kAspect * cone.slope);
  const int rows = straight_steps(cone.slope, kAspect * cone.angle * mean / columns, columns);
  mesh.add_grid(columns, rows, [&](double u, double v) { return cone_point(spec, v, turn_at(cone.angle, u)); });
}

// Its two bends add up where both are the section's way, at the outer springing.
void add_annular(TriangleRows& mesh, const ShapeSpec& spec, double tolerance) {
  const double r = 0.5 * (spec.outer - spec.inner), angle = turn_of(spec);
  const int columns = turn_steps(angle, spec.outer, 0.5 * tolerance, kAspect * kPi * r);
  const int rows = 2 * steps(kPi / 2 * r, 2 * std::sqrt(r * tolerance), 2);
  mesh.add_grid(columns, rows, [&](double u, double v) {
    const double side = 2 * v <= 1 ? 1 : -1;
    return annular_point(spec, side, kPi / 2 * std::abs(1 - 2 * v), turn_at(angle, u));
  });
}

void add_apse(TriangleRows& mesh, const ShapeSpec& spec, double tolerance) {
  const double r = 0.5 * spec.span;
  const double step = 2 * std::sqrt(r * tolerance);
  const int columns = 2 * steps(kPi * r, 2 * step, 4);
  const int drum_rows = straight_steps(spec.height, kAspect * kPi * r / columns, columns);
  TriangleRows::Row below;
  const auto add = [&](int count, const auto& point) {
    auto row = mesh.add_row(count, [&](double f) { return point(turn_at(kPi, f)); });
    if (!below.corners.empty()) mesh.join(below, row);
    below = std::move(row);
  };
  for (int j = 0; j <= drum_rows; ++j)
    add(columns, [&](const Turn& turn) { return drum_point(r, spec.height * j / drum_rows, turn); });
  const int rows = steps(kPi / 2 * r, step, 4);
  for (int j = 1; j < rows; ++j) {
    const double theta = kPi / 2 * j / rows;
    add(2 * steps(kPi * r * std::cos(theta), 2 * step, 1),
        [&](const Turn& turn) { return apse_dome_point(spec, theta, turn); });
  }
  TriangleRows::Row pole;
  const double top = spec.height + r;
  pole.push(mesh.add({{0, 0, top}, {0, 0, -1}, {r * kPi / 2, spec.height + r * kPi / 2}}), 0);
  mesh.join(below, pole);
}

}  // namespace pontata
