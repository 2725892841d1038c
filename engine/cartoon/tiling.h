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
  Vec2 turn{1, 0};    // unit: where the pattern's own rightward direction points on the page
  Vec2 page{0, 0};    // mm; sheets may lie either way round, a roll's page is as wide as the roll
  Vec2 window{0, 0};  // mm
  SheetMargins margins;
  double overlap = 0;  // mm
  int columns = 1, rows = 1;
  std::vector<Tile> tiles;  // those that are needed to show the whole pattern, row by row from the top
};

// A point of the pattern (mm) as the tiling places it: turned by `turn`, not moved; tiles say where they lie upon it.
Vec2 placed(const Tiling& tiling, Vec2 pattern_mm);
// The same turn in degrees, counter-clockwise, -180..180.
double turn_deg(const Tiling& tiling);
// Paper that all its sheets take, m2; on a roll also the length cut from it, m (0 for sheets).
double paper_m2(const Tiling& tiling);
double roll_m(const Tiling& tiling, const Paper& paper);

// The pattern's triangles (mm, three corners each) over as few sheets as turning and moving it is found to allow: never
// more than upright or a quarter turn need. Equal counts prefer the pattern upright, then a quarter turn, then the
// least turn. On a roll the sheets are as long as needed, and a turn that saves a twentieth of the paper is taken.
// Every point of the pattern lies in some window, and 12 mm round it where no other sheet follows. Needs some
// 50 to 65 ms for a square metre on A4, half of that on A3 and larger.
Result<Tiling> tile(const std::vector<Vec2>& corners, const Paper& paper, double overlap_mm);

// The pattern upright in one window as large as it needs, whatever its size: for files that no printer pages.
Tiling whole(const std::vector<Vec2>& corners);

}  // namespace pontata
