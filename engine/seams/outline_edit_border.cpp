#include <fmt/format.h>

#include <cmath>

#include "engine/seams/outline_edit.h"

namespace pontata {

namespace {

// Length on the surface of the step from border place q out to p, by the surface's scale at q.
double step_length(const ChartedWall& wall, ChartPoint q, ChartPoint p) {
  const double du = p.u - q.u, dv = p.v - q.v;
  const auto t = wall.chart->triangle_at(to_lattice(q));
  if (!t) return wall.chart->stretch().greatest * std::hypot(du, dv);
  const auto form = wall.metric->first_form(*t);
  return std::sqrt(form.E * du * du + 2 * form.F * du * dv + form.G * dv * dv);
}

}  // namespace

Result<Ring> bring_to_border(const ChartedWall& wall, const std::vector<ChartPoint>& outline, double reach_m) {
  Ring ring;
  ring.reserve(outline.size());
  for (std::size_t i = 0; i < outline.size(); ++i) {
    ChartPoint p = outline[i];
    if (!std::isfinite(p.u) || !std::isfinite(p.v))
      return Problem{"A point of the outline is not a number", fmt::format("point {}", i + 1),
                     "Give numbers in metres."};
    if (!fits_lattice(p))
      return Problem{"A point of the outline lies kilometres outside the wall", fmt::format("point {}", i + 1),
                     "Check the unit: places are in metres."};
    if (!wall.chart->triangle_at(to_lattice(p))) {
      const ChartPoint q = wall.chart->clamp(p);
      const double off = step_length(wall, q, p);
      if (!(off <= reach_m))
        return Problem{fmt::format("A point of the outline lies {:.0f} mm outside the wall", off * 1000),
                       fmt::format("point {}, at {:.4f} {:.4f}", i + 1, p.u, p.v),
                       fmt::format("Keep within {:.0f} mm of the wall's border.", reach_m * 1000)};
      p = q;
    }
    ring.push_back(to_lattice(p));
  }
  return ring;
}

}  // namespace pontata
