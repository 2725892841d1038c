// One giornata (or one part of it, when it is in several) laid flat, with what lies beyond each stretch of its rim.
#pragma once

#include <string>
#include <vector>

#include "engine/cartoon/cartoon.h"

namespace pontata {

enum class Beyond { border, rest, open, finished, neighbour };

// A run of rim with the same thing beyond it.
struct RimStretch {
  Beyond beyond = Beyond::rest;
  GiornataId neighbour;    // open, finished, neighbour
  std::string label;       // its number; empty without one
  std::vector<Vec2> line;  // mm on the pattern, in the rim's direction: the giornata is on its left
};

struct Pattern {
  const CartoonWall* wall = nullptr;
  const CartoonGiornata* giornata = nullptr;
  int part = 1, parts = 1;
  Patch patch;
  Flattening flat;                         // m
  std::vector<std::vector<Vec2>> outline;  // mm, per rim
  std::vector<RimStretch> stretches;
};

// Lays all parts of a giornata flat. A part that folds is a Problem that names the giornata.
Result<std::vector<Pattern>> make_patterns(const CartoonWall& wall, const CartoonGiornata& giornata,
                                           Progress* progress);

}  // namespace pontata
