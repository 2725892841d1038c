// Marks on a pattern: match marks across seams and cuts, relief cuts, registration marks and snapped lines.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/cartoon/page_room.h"
#include "engine/cartoon/pattern_carrier.h"
#include "engine/cartoon/registration.h"
#include "engine/cartoon/sheet_view.h"

namespace pontata {

struct PlacedWords {
  std::string words;
  Vec2 centre{0, 0};  // mm on the pattern
  double size_mm = 2.6, angle_deg = 0;
  bool bold = false;
};
struct PlacedTick {
  Vec2 from{0, 0}, to{0, 0};  // mm on the pattern
};
struct PlacedLine {
  std::string sign;
  std::vector<Vec2> points;  // mm on the pattern
};

struct SheetMarks {
  std::vector<PlacedTick> ticks;                   // of match marks
  std::vector<std::vector<Vec2>> triangles;        // of registration marks: tip on the rim first
  std::vector<PlacedLine> snapped;                 // lines of the wall that cross the pattern
  std::vector<PlacedWords> mark_words, cut_words;  // names; words of cuts
};

// Finds room for all of them, upright on a page turned by `turn_deg`. `trimmed`: nothing beyond the outline.
// `registration` and `lines` may be missing.
SheetMarks place_marks(const Pattern& pattern, const PatternCarrier& carrier, const Registration* registration,
                       const std::vector<SnappedLine>* lines, bool trimmed, PageRoom& room, double turn_deg);

void draw_cuts(Pages& pages, const Pattern& pattern, const SheetMarks& marks, const SheetView& view);
void draw_marks(Pages& pages, const SheetMarks& marks, const SheetView& view);

}  // namespace pontata
