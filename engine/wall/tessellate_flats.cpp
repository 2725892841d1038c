// Walls in one plane.

#include <algorithm>
#include <cmath>

#include "engine/wall/shape_sizes.h"
#include "engine/wall/tessellate_families.h"

namespace pontata {

void add_flat(TriangleRows& mesh, const ShapeSpec& spec) {
  const double longer = std::max(spec.width, spec.height), shorter = std::min(spec.width, spec.height);
  const double cell = std::max(std::min(longer / 8, shorter), longer / 512);
  mesh.add_grid(steps(spec.width, cell, 1), steps(spec.height, cell, 1),
                [&](double u, double v) { return plane_point(u * spec.width, v * spec.height); });
}

namespace {

// Arcs about the centre of the lunette's circle, smaller and smaller, each cut off by the springing line.
class Lunette {
 public:
  Lunette(TriangleRows& mesh, const ShapeSpec& spec)
      : mesh_(mesh), spec_(spec), radius_(segment_sizes(spec.span, spec.rise).radius) {}

  void add(double edge_step) {
    const double coarse = spec_.span / 12;
    TriangleRows::Row outer;
    double outer_half = 0;
    for (const auto& [inward, step] : inward_rows(spec_.rise, coarse, std::min(edge_step, coarse))) {
      const double half = half_chord(inward);
      TriangleRows::Row arc = arc_row(inward, half, step);
      if (!outer.corners.empty()) mesh_.join_bent(outer, with_springing(arc, outer, outer_half, half, step), 0);
      outer = std::move(arc), outer_half = half;
    }
  }

 private:
  double half_chord(double inward) const {
    return std::sqrt(std::max(0.0, (spec_.rise - inward) * (2 * radius_ - spec_.rise - inward)));
  }
  double angle_of(double half) const { return std::atan2(half, radius_ - spec_.rise); }

  TriangleRows::Row arc_row(double inward, double half, double step) const {
    const double radius = radius_ - inward, end = half > 0 ? angle_of(half) : 0;
    if (end == 0) {
      TriangleRows::Row middle;
      middle.push(mesh_.add(plane_point(0.5 * spec_.span, 0)), 0);
      return middle;
    }
    auto row = mesh_.add_row(steps(2 * end * radius, step, 2), [&](double f) {
      const double angle = end * (2 * f - 1);
      return plane_point(0.5 * spec_.span + (f == 0 || f == 1 ? (2 * f - 1) * half : radius * std::sin(angle)),
                         2 * radius * std::sin(0.5 * (end - angle)) * std::sin(0.5 * (end + angle)));
    });
    for (auto& key : row.keys) key = end * (2 * key - 1);
    return row;
  }

  // The inner arc with the stretches of springing line that lead to it from the ends of the outer one.
  TriangleRows::Row with_springing(const TriangleRows::Row& inner, const TriangleRows::Row& outer, double outer_half,
                                   double half, double step) const {
    const int count = steps(outer_half - half, step, 1);
    TriangleRows::Row left, right;
    left.push(outer.corners.front(), outer.keys.front());
    right.push(outer.corners.back(), outer.keys.back());
    for (int i = 1; i < count; ++i) {
      const double off = outer_half + (half - outer_half) * i / count;
      left.push(mesh_.add(plane_point(0.5 * spec_.span - off, 0)), -angle_of(off));
      right.push(mesh_.add(plane_point(0.5 * spec_.span + off, 0)), angle_of(off));
    }
    left.append(inner);
    left.append(right.reversed());
    return left;
  }

  TriangleRows& mesh_;
  const ShapeSpec& spec_;
  double radius_;
};

}  // namespace

void add_lunette(TriangleRows& mesh, const ShapeSpec& spec, double tolerance) {
  const double radius = segment_sizes(spec.span, spec.rise).radius;
  Lunette(mesh, spec).add(std::sqrt(8 * radius * edge_sagitta(spec, tolerance, spec.rise)));
}

}  // namespace pontata
