// The sheets of one pattern.
#pragma once

#include "engine/cartoon/page.h"
#include "engine/cartoon/pattern.h"
#include "engine/cartoon/pattern_picture.h"
#include "engine/cartoon/registration.h"
#include "engine/cartoon/tiling.h"

namespace pontata {

// Triangle corners of the pattern in mm, three a triangle; what `tile` takes.
std::vector<Vec2> pattern_corners(const Pattern& pattern);

// What a set of sheets is for.
enum class SheetCopy {
  painting,  // to hang and to pounce through
  incision,  // to trace with the stylus: solid lines alone, trimmed to the outline
  sinopia    // for the arriccio: contours and where the seams will run
};

struct SheetTexts {
  std::string project{};  // file name without folder
  bool trial = false;     // "trial print: numbers may still change"
  PrintChoice print{};    // `mirrored` only words it: mirror the pattern itself
  SheetCopy copy = SheetCopy::painting;
  Registers* registers = nullptr;  // for registration marks and snapped lines (where no squares are); may be missing
};

// Draws every sheet of the tiling as a page of its own, each thing on its layer: the picture inside the outline, its
// contours as lines, marks to prick, squares or snapped lines, relief cuts, match marks and registration marks, words
// along the seams, the number and an arrow up; where windows overlap, the line to cut or to glue along and registration
// crosses that the neighbouring sheet repeats; check bars of 100 mm across and up; number, room for the date, sheet
// map, area, litres, stretch. `picture` may be null.
void draw_sheets(Pages& pages, const Pattern& pattern, const Tiling& tiling, ChartPicture* picture,
                 const Squares* squares, int dpi, const SheetTexts& texts, Progress* progress);

}  // namespace pontata
