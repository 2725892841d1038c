// A pattern over the sheets it needs.
#pragma once

#include <string>
#include <vector>

#include "engine/cartoon/cartoon.h"

namespace pontata {

// Sides of a sheet that are not pattern, mm: what printers leave blank, and the strip of words below.
struct SheetMargins {
  double left = 13, right = 9, top = 9, bottom = 40;
};

struct Tile {
  int column = 0, row = 0;  // row 0 at the top
  Vec2 corner{0, 0};        // lower left of the sheet's window on the turned pattern, mm
};

// All sheets of one pattern share a window (what they show) and a page size. Neighbouring windows overlap by `overlap`.
struct Tiling {
  bool turned = false;  // the pattern turned a quarter, counter-clockwise
  Vec2 page{0, 0};      // mm
  Vec2 window{0, 0};    // mm
  SheetMargins margins;
  double overlap = 0;  // mm
  int columns = 1, rows = 1;
  std::vector<Tile> tiles;  // those that show some of the pattern, row by row from the top
};

// A point of the pattern (mm) as the tiling places it.
Vec2 placed(const Tiling& tiling, Vec2 pattern_mm);

// The pattern's triangles (mm, three corners each) over as few sheets as upright or a quarter turn allow, upright when
// both need as many. On a roll the sheets are as long as needed.
Result<Tiling> tile(const std::vector<Vec2>& corners, const Paper& paper, double overlap_mm);

}  // namespace pontata
