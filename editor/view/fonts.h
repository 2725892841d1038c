// The typeface of panels and marks: DejaVu Sans from the system, with accented Latin letters, Greek and a few signs.
#pragma once

namespace pontata {

struct FontSizes {
  float text = 15, heading = 19;  // px at 100 %
};

// Clears the current ImGui context's fonts and adds text ([0]) and heading ([1]) at this scale. Without the typeface on
// the system ImGui's own small font is used, which lacks accents.
void add_fonts(double scale, const FontSizes& sizes = {});

}  // namespace pontata
