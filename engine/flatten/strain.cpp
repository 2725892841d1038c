#include "engine/flatten/strain.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pontata {

RestTriangle rest_triangle(const std::array<double, 3>& sides) {
  const double base = std::max(sides[0], 1e-12);
  const double x = (base * base + sides[2] * sides[2] - sides[1] * sides[1]) / (2 * base);
  const double longest = std::max({base, sides[1], sides[2]});
  const double y = std::sqrt(std::max(sides[2] * sides[2] - x * x, 1e-16 * longest * longest));
  RestTriangle r;
  r.a = 1 / base, r.b = -x / (base * y), r.d = 1 / y;
  r.area = 0.5 * base * y;
  r.height = 2 * r.area / longest;
  return r;
}

Stretches stretches(const Gradient& g) {
  const double s = 0.5 * std::hypot(g.xx + g.yy, g.yx - g.xy), d = 0.5 * std::hypot(g.xx - g.yy, g.xy + g.yx);
  return {s + d, s - d};
}

double step_to_flip(Vec2 a, Vec2 b, Vec2 da, Vec2 db) {
  // least positive root of c0 + c1 t + c2 t^2, c0 > 0
  const double c0 = cross2(a, b), c1 = cross2(da, b) + cross2(a, db), c2 = cross2(da, db);
  const double disc = c1 * c1 - 4 * c0 * c2, never = std::numeric_limits<double>::infinity();
  if (disc < 0) return never;
  const double root = std::sqrt(disc);  // both roots positive only when c1 < 0
  double t = never;
  if (c1 < 0)
    t = 2 * c0 / (root - c1);
  else if (c2 < 0)
    t = (-c1 - root) / (2 * c2);
  return t > 0 ? t : never;
}

}  // namespace pontata
