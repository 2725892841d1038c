// Where a grid of sheets meets a pattern; the ground under tiling.
#pragma once

#include <vector>

#include "engine/cartoon/tiling.h"

namespace pontata {

inline constexpr double kTilingRoom = 12;  // mm round the pattern, for the neighbours' numbers

// A sheet lying one way round. Windows overlap; their cores, the windows less half the overlap on each side, do not,
// and cover the plane: a sheet is needed when its core meets the pattern.
struct SheetShape {
  Vec2 page, window, step;  // mm; step: the core's sides
};
SheetShape sheet_shape(Vec2 page, const SheetMargins& margins, double overlap);

struct Extent {
  Vec2 lo{1e300, 1e300}, hi{-1e300, -1e300};
  Vec2 size() const { return hi - lo; }
};
inline Vec2 turned_by(Vec2 turn, Vec2 p) { return {turn.x * p.x - turn.y * p.y, turn.y * p.x + turn.x * p.y}; }
Extent extent_of(const std::vector<Vec2>& points, Vec2 turn);

// Sheets along one side: one, or as many as overlapping windows need.
int sheets_along(double length, double window, double overlap);

// A pattern turned and laid upon a grid of cores.
struct Laid {
  Vec2 turn{1, 0};
  Vec2 start{0, 0};  // a corner of the grid, on the turned pattern
};

// The tiling of a pattern (triangle corners) laid so: the cores that its triangles meet, exactly.
Tiling tiling_of(const std::vector<Vec2>& corners, const SheetShape& shape, const Laid& laid, double overlap);
// The pattern's box in the middle of the sheets that its sides need.
Laid centred_box(const std::vector<Vec2>& corners, const SheetShape& shape, Vec2 turn, double overlap);

}  // namespace pontata
