// The squares for squaring up as they run over a flat pattern and over a wall's plan.
#pragma once

#include <optional>

#include "engine/cartoon/pattern.h"

namespace pontata {

struct PatternSquareLine {
  std::string name;
  std::vector<Vec2> points;  // mm on the pattern; upright lines from below, level ones from the left
};

// Every stretch of the wall's lines that crosses the pattern. O(lines x triangles).
std::vector<PatternSquareLine> pattern_squares(const Pattern& pattern, const Squares& squares);

// The wall's lines where squaring up is asked for.
Result<std::optional<Squares>> wall_squares(const CartoonWall& wall);

}  // namespace pontata
