// Where the regions of the window lie.
#pragma once

#include <array>

#include "editor/window/window_settings.h"

namespace pontata {

struct Region {
  double x = 0, y = 0, width = 1, height = 1;  // px, from the upper left
  bool holds(double px, double py) const { return px >= x && py >= y && px < x + width && py < y + height; }
};

enum class Divider { left, page, right, bottom, picture, views };
inline constexpr std::size_t kDividers = 6;

struct Layout {
  Region top, left, page, strip, views, right, bottom, status;
  Region picture;                          // the chosen picture itself, where it stands beside the views of the wall
  bool picture_beside = true;              // left of them; otherwise above
  std::array<Region, kDividers> dividers;  // by Divider; the one between the views belongs to ViewArea
};

// Regions for a window of this size. A window too small for all of them shrinks the side columns a little, then leaves
// out the pontate while a page is open, then puts the page below the right column.
Layout make_layout(double width, double height, const WindowSettings& settings, double scale, bool page_open,
                   bool picture_open = false);

// Rows of the top bar: one or two of buttons, then the tabs of the stages, so many in a row.
struct TopRows {
  int button_rows = 1, tabs_in_row = 7;
};
TopRows top_rows(double width, double scale);

// Whether a tool strip of this width names the tools without their keys.
bool short_tool_names(double width, double scale);

// The settings after a divider was dragged by this many px.
void drag_divider(WindowSettings& settings, Divider divider, double dx, double dy, double scale);
void drag_wide_page(WindowSettings& settings, double dx, double scale);  // the page's divider beside a wide page

}  // namespace pontata
