// Squaring up: lines in the wall's own metres over wall and picture, by which a design is carried over by eye.
#pragma once

#include <string>
#include <vector>

#include "engine/chart/charted_wall.h"

namespace pontata {

struct SquareLine {
  bool upright = true;
  std::string name;  // upright: A, B, C, … from the left; level: 1, 2, 3, … from the foot
  double at = 0;     // the line's chart u (upright) or v (level), m
  struct Stretch {
    ChartPoint from, to;  // on the wall, left to right or upward
  };
  std::vector<Stretch> stretches;
};

struct Squares {
  double step_m = 0;
  std::vector<SquareLine> lines;  // upright ones first
  // Sides of the squares on the surface against the step, all whole squares: 1 and 1 where they are true squares'
  // sides.
  double least = 1, greatest = 1;
};

// Upright lines stand at whole steps from the wall's centre line (the middle of its chart), measured along the surface
// on the chart's middle row; level lines at whole steps from its foot, measured up the centre line. Where that row or
// line leaves the wall, it counts as long as in the chart. On a wall that unrolls (flat, barrel, drum, …) the lines are
// true squares; elsewhere squares away from both are told by `least` and `greatest`.
// step_m > 0; more than 400 lines one way are refused, and steps that leave no line.
Result<Squares> squares_on(const ChartedWall& wall, double step_m);

// "squares of 0.5 m", with how far their sides are off where they are.
std::string words_of(const Squares& squares);

}  // namespace pontata
