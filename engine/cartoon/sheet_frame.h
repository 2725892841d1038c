// What stands round the pattern on a sheet: cut and glue lines, registration crosses, check bars, words, sheet map.
#pragma once

#include <string>
#include <vector>

#include "engine/cartoon/page.h"
#include "engine/cartoon/tiling.h"

namespace pontata {

struct SheetFrame {
  std::string title;               // "giornata 7 · sheet 2 of 6"
  std::vector<std::string> notes;  // one line each
  Vec2 up{0, 1};                   // on the page
  std::string up_words = "up";
  std::vector<std::vector<Vec2>> outline;  // mm as the tiling places it, for the map
};

inline constexpr double kCheckBar = 100;  // mm

void draw_frame(Pages& pdf, const Tiling& tiling, std::size_t sheet, const SheetFrame& frame);

// An arrow of this length centred on a point.
void draw_arrow(Pages& pdf, Vec2 centre, Vec2 direction, double length_mm, double width_mm, bool casing);

}  // namespace pontata
