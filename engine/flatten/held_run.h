// Runs of rim held to their shapes: what the solver knows of each.
//
// A run is a rigid body on the paper: an angle and a shift are unknowns beside its points, and each point is drawn to
// its place on the body by a spring. What the springs still give way by is added to what they pull for the next round
// (method of multipliers; Nocedal and Wright, "Numerical Optimization", section 17.3), so that the points come to their
// places exactly with springs only some ten times as stiff as the paper.
#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "engine/flatten/flattening.h"

namespace pontata {

// One point's distance from its place: `error` (m) and how the place moves when the body turns (m per radian).
struct Pull {
  Vec2 error{0, 0}, turn{0, 0};
};

struct HeldBody {
  std::vector<std::uint32_t> points;  // of the patch
  std::vector<Vec2> shape;            // m, about its middle
  std::vector<double> stiffness;      // per point
  std::vector<Vec2> owed;             // m, what the springs have given way by so far
  double angle = 0;                   // where the body lies to begin with
  Vec2 middle{0, 0};

  // Of point i of the body, when the body is turned and shifted so.
  Pull pull(std::size_t i, double turned, Vec2 at, Vec2 flat) const;
};

// Bodies of the runs, laid where they fit `flat` best. A run that is not one of the patch's rims, or whose shape goes
// more than once round it, is std::logic_error.
std::vector<HeldBody> make_bodies(const Patch& patch, std::span<const HeldRun> held, const std::vector<Vec2>& flat);

// How well runs are held: greatest distance of a run from its shape after the best rigid fit, greatest difference of a
// run's length; both m.
struct HoldError {
  double distance = 0, length = 0;
};
HoldError hold_error(std::span<const HeldBody> bodies, const std::vector<Vec2>& flat);

}  // namespace pontata
