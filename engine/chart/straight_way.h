// A way over the surface pulled straight: the shortest of all ways near it.
#pragma once

#include <vector>

#include "engine/chart/metric.h"
#include "engine/chart/turning.h"

namespace pontata {

struct StraightWay {
  std::vector<SideId> sides;   // crossed, in order
  std::vector<double> shares;  // where along each, 0 at its start, 1 at its end
  // Sides that are crossed at a point the way bends round: an end of the wall, or a place where the surface has more
  // than a full turn and a shortest way may bend.
  std::vector<SideId> bends;
  double length = 0;  // m, over the triangles laid flat one after another
};

// The sides of `rough` lead from a's triangle to b's. The triangles between are laid flat in a row, with sides as long
// as the metric says, and a string is pulled through them (funnel: Lee and Preparata, "Euclidean shortest paths in the
// presence of rectilinear barriers", 1984); where it bends round a point with less than a half turn on its other side,
// it is led over the other side (Xin and Wang, "Efficiently determining a locally exact shortest path on polyhedral
// surfaces", 2007), until it bends at no such point. Then it turns nowhere that it could be shortened: a geodesic of
// the triangles (Mitchell, Mount, Papadimitriou, "The discrete geodesic problem", 1987).
StraightWay straighten(const Chart& chart, const Metric& metric, const WallPoint& a, const WallPoint& b,
                       std::vector<SideId> rough);

}  // namespace pontata
