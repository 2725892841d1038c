// Places on seams, and the seams between them. Internal to engine/seams.
#pragma once

#include <optional>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/seams/seam_recourse.h"

namespace pontata {

struct SeamPlace {
  SeamId seam{kNone};
  double share = 0;  // along half-edge 2k, in the chart
  LatticePoint place;
  double distance_m = 0;           // on the surface, from the place asked for
  std::optional<VertexId> vertex;  // at an end of the seam
};

// The nearest place on a seam within reach_m surface metres of p, by the metric there; a vertex within `vertex_m` of
// that place is it. Precondition: p fits the lattice.
std::optional<SeamPlace> seam_near(const ChartedWall& wall, const Network& network, ChartPoint p, double reach_m,
                                   bool border, double vertex_m);

// p as it lies on the wall (brought back over a cut), or a Problem: not a number, kilometres away.
Result<ChartPoint> place_asked(const ChartedWall& wall, ChartPoint p);

// Seams meet here, or a seam and the border do.
bool is_junction(const Network& network, VertexId v);
bool is_on_border(const Network& network, VertexId v);

// Surface metres of the straight chart stretch.
double length_between(const ChartedWall& wall, LatticePoint a, LatticePoint b);

// Which inner points of the line (first and last stay) a line through the rest may leave out: each lies within
// `tolerance_m` surface metres of it. Based on: Douglas and Peucker, "Algorithms for the reduction of the number of
// points required to represent a digitized line", 1973. Indices of what stays. `stays`: points never left out.
std::vector<std::size_t> needed_points(const ChartedWall& wall, const std::vector<LatticePoint>& line,
                                       double tolerance_m, const std::vector<std::size_t>& stays = {});

}  // namespace pontata
