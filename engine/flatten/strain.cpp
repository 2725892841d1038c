#include "engine/flatten/strain.h"

#include <algorithm>
#include <cmath>

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

}  // namespace pontata
