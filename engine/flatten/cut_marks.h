// Where rings on the two sides of a cut lie on each other: both given the same points there, so that what lies inside
// can be sewn together.
#pragma once

#include <span>
#include <vector>

#include "engine/chart/charted_wall.h"

namespace pontata {

// A point of a ring.
struct RingPoint {
  std::size_t ring = 0, point = 0;
};
// The same place of the surface as two rings (or one ring in two places) have it.
struct RingPair {
  RingPoint here, there;
  std::uint32_t edge = 0;  // border edge of the chart that `here` lies on
};
struct CutMarks {
  std::vector<Ring> rings;      // as given, with points added along cuts
  std::vector<RingPair> pairs;  // in the order of the border; empty where no ring lies on another across a cut
};

// `spacing_m`: greatest distance between points along stretches that lie on each other. Points nearer than `merge_m` to
// one that a ring has already take that one.
CutMarks mark_cuts(const ChartedWall& wall, std::span<const Ring> rings, double spacing_m, double merge_m);

// Rings by region: an outer ring with the holes in it.
std::vector<std::vector<std::size_t>> regions_of(std::span<const Ring> rings);

}  // namespace pontata
