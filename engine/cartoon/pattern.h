// One giornata (or one part of it, when it is in several) laid flat, with what lies beyond each stretch of its rim.
#pragma once

#include <string>
#include <vector>

#include "engine/cartoon/relief.h"
#include "engine/cartoon/rim_sides.h"

namespace pontata {

// A run of rim with the same thing beyond it; the lips of cuts are in none, and a cut's mouth parts two of them.
struct RimStretch {
  Beyond beyond = Beyond::rest;
  GiornataId neighbour;    // open, finished, neighbour
  std::string label;       // its number; empty without one
  std::vector<Vec2> line;  // mm on the pattern, in the rim's direction: the giornata is on its left
};

// A relief cut: paper cannot stretch, so it is cut from the rim inward along `right` and `left` (mm on the pattern,
// from the mouth to the tip, which they share; seen from the mouth looking inward). On the wall they are one line.
struct PatternCut {
  std::string name;  // "a", "b", ...: marks on either side of it carry it
  std::vector<Vec2> right, left;
  double closes_mm = 0;  // width of the mouth on paper that closes on the wall; negative where the paper, slit, opens
};

// A mark at one place of the wall that two rims share: on both prints of a seam, or on both sides of a cut.
struct MatchMark {
  std::string name;   // the same on both: a number on seams, at a cut's mouth the cut and its giornata
                      // ("a7"), along a cut its name and a number ("a.1")
  Vec2 at{0, 0};      // mm on the pattern, on its rim
  Vec2 inward{0, 1};  // unit, into the pattern
  bool on_cut = false;
};

struct Pattern {
  const CartoonWall* wall = nullptr;
  const CartoonGiornata* giornata = nullptr;
  int part = 1, parts = 1;
  Patch patch;
  Flattening flat;                         // m
  std::vector<std::vector<Vec2>> outline;  // mm, per rim
  std::vector<RimStretch> stretches;
  std::vector<PatternCut> cuts;
  std::vector<MatchMark> marks;
};

// Lays all parts of a giornata flat, with the cuts that it takes, every seam held to its development (see
// engine/flatten/development.h), and match marks. Depends on the wall alone, not on what was made before. `plans`: what
// patterns of this wall share, so that it is made once; without it a plan of its own is made, for `relief_mm`. A part
// that folds is a Problem that names the giornata.
Result<std::vector<Pattern>> make_patterns(const CartoonWall& wall, const CartoonGiornata& giornata, Progress* progress,
                                           WallPlans* plans = nullptr, double relief_mm = 1.5);

}  // namespace pontata
