// Curves as chords that leave them by at most a tolerance. Each function appends the curve without its first point, so
// that pieces follow each other; the last point is exact.
#pragma once

#include <array>
#include <vector>

#include "engine/base/vec.h"

namespace pontata {

using Points = std::vector<Vec2>;

// x -> m * x + t.
struct Affine {
  double a = 1, b = 0, c = 0, d = 1, e = 0, f = 0;  // (x, y) -> (a x + c y + e, b x + d y + f)
  Vec2 operator()(const Vec2& p) const { return {a * p.x + c * p.y + e, b * p.x + d * p.y + f}; }
  Affine operator*(const Affine& o) const;  // o first
  double greatest_scale() const;            // singular value of the linear part
};

// Bezier curves in equal steps of the parameter, as many as the second differences of the control points ask for:
// n = sqrt(d (d - 1) M / (8 tolerance)). Based on: Wang, "The subdivision method for finding the intersection between
// two Bezier curves or surfaces", Zhejiang University Journal, 1984 (from memory; the bound is that of linear
// interpolation, max |f''| h^2 / 8).
void add_cubic(Points& out, const std::array<Vec2, 4>& control, double tolerance);
void add_quadratic(Points& out, const std::array<Vec2, 3>& control, double tolerance);

// The image of the unit circle's arc from angle `from` over `sweep` (either sign, rad) under `map`; chords of equal
// angle whose sagitta, magnified by the map's greatest scale, is within the tolerance.
void add_arc(Points& out, const Affine& map, double from, double sweep, double tolerance);

// The arc of a SVG path (SVG 1.1, appendix F.6) from `from` to `to` in the path's own units, laid by `map`.
struct SvgArc {
  Vec2 radii{0, 0};
  double turn_deg = 0;
  bool large = false, sweep = false;
};
void add_svg_arc(Points& out, const Vec2& from, const Vec2& to, const SvgArc& arc, const Affine& map, double tolerance);

// The arc from a to b whose bulge (tangent of a quarter of its angle, positive counter-clockwise) a DXF polyline gives.
void add_bulge(Points& out, const Vec2& a, const Vec2& b, double bulge, double tolerance);

// A rational B-spline. Control points and weights are of one number n, knots n + degree + 1 in rising order.
struct Spline {
  int degree = 3;
  std::vector<double> knots, weights;  // weights may be empty: all 1
  Points control;
  bool sound() const;
};
// Its points, the first too, by de Boor's algorithm in halves, until a quarter, the middle and three quarters of every
// piece lie within the tolerance of its chord. Precondition: sound().
Points spline_points(const Spline& spline, double tolerance);

}  // namespace pontata
