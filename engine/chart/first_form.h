// Short chart steps under the surface's first fundamental form.
#pragma once

#include "engine/chart/metric.h"

namespace pontata {

// Inner product, m^2 on the surface, of two short chart steps (chart m) from the place where the form was taken.
inline double dot(const Metric::FirstForm& g, const Vec2& a, const Vec2& b) {
  return g.E * a.x * b.x + g.F * (a.x * b.y + a.y * b.x) + g.G * a.y * b.y;
}

}  // namespace pontata
