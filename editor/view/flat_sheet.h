// Charts of several walls side by side on one picture, all at one scale, each with room for its name beneath.
#pragma once

#include <span>
#include <vector>

#include "editor/view/camera.h"

namespace pontata {

struct SheetCell {
  Vec2 corner{0, 0};  // px, upper left
  ViewSize size;      // px, of the chart alone
};
struct FlatSheet {
  double metre_px = 0;  // px per chart metre, the same for all
  std::vector<SheetCell> cells;
};
// In rows, in the given order, as large as the picture allows. `gap` lies round and between charts; `name` is the
// height of a name (px).
FlatSheet lay_out_charts(std::span<const ChartBox> charts, ViewSize picture, double gap, double name);

}  // namespace pontata
