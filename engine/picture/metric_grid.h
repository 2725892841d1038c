// The surface metric on a coarse grid over the chart's box, for work that asks it at millions of places: accurate to
// the change of the metric between nodes (about spacing / radius of curvature). Lengths that are told to the painter
// are measured by Metric itself.
#pragma once

#include <vector>

#include "engine/chart/charted_wall.h"

namespace pontata {

struct MetricGrid {
  double spacing = 1;  // chart metres between nodes; node (i, j) sits at (i * spacing, j * spacing)
  int columns = 0, rows = 0;
  std::vector<Metric::FirstForm> nodes;

  // Bilinear between the nodes; places beyond the grid take its rim.
  Metric::FirstForm at(ChartPoint p) const;
};

// Nodes off the wall take the form of the nearest node on it (by steps between nodes).
MetricGrid metric_grid(const ChartedWall& wall, double spacing);

// The form at a chart place, of the nearest place on the wall when p lies beside it.
Metric::FirstForm form_near(const ChartedWall& wall, ChartPoint p);

// Surface length of the short chart step d under a form.
double step_length(const Metric::FirstForm& form, const Vec2& d);

}  // namespace pontata
