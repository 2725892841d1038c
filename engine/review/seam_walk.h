// Along a seam by surface length: places and turns. Internal to engine/review.
#pragma once

#include <vector>

#include "engine/review/seam_chains.h"

namespace pontata {

// A chain as a line with the surface length up to each of its places.
struct MeasuredLine {
  std::vector<Vec2> at;        // chart m
  std::vector<double> length;  // m, from the first place; rising
  double total() const { return length.empty() ? 0 : length.back(); }
  Vec2 place(double m) const;  // by length, held to the line's ends
  std::vector<ChartPoint> stretch(double from, double to) const;
};
MeasuredLine measured_line(const Network& network, const SeamChain& chain);

// Angle in radians on the surface at p from the chart direction a to b, counter-clockwise as the painter sees it.
double turn_at(const ChartedWall& wall, Vec2 p, Vec2 a, Vec2 b);

}  // namespace pontata
