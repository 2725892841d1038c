// The sheets of one pattern.
#pragma once

#include "engine/cartoon/page.h"
#include "engine/cartoon/pattern.h"
#include "engine/cartoon/pattern_picture.h"
#include "engine/cartoon/tiling.h"

namespace pontata {

// Triangle corners of the pattern in mm, three a triangle; what `tile` takes.
std::vector<Vec2> pattern_corners(const Pattern& pattern);

struct SheetTexts {
  std::string project;  // file name without folder
  bool trial = false;   // "trial print: numbers may still change"
};

// Draws every sheet of the tiling as a page of its own: the picture inside the outline, words along the seams, the
// number and an arrow up; where windows overlap, the line to cut or to glue along and registration crosses that the
// neighbouring sheet repeats; check bars of 100 mm across and up; number, sheet map, area, litres, stretch. `picture`
// may be null.
void draw_sheets(Pages& pdf, const Pattern& pattern, const Tiling& tiling, ChartPicture* picture,
                 const Squares* squares, int dpi, const SheetTexts& texts, Progress* progress);

}  // namespace pontata
