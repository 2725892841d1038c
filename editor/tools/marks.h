// Numbered marks over a view or over the picture itself, and the rim of a picture on its wall.
#pragma once

#include <vector>

#include "editor/tools/tool.h"
#include "engine/picture/placed_picture.h"

namespace pontata {

enum class MarkLook { plain, chosen, doubtful };

// A cross that leaves its middle free, and its number beside it; `at` in px of the window.
void draw_mark(ImDrawList& list, Vec2 at, std::size_t number, MarkLook look, double scale);
// A small square to take hold of.
void draw_handle(ImDrawList& list, Vec2 at, double scale);

// Chart places along the rim of a picture, all round from its lower left corner; each side in so many pieces. Places
// that fall beside the wall are left out, except of a lay in the chart.
std::vector<ChartPoint> rim_on_wall(const ChartedWall& wall, const PlacedPicture& picture, int pieces = 16);

// The corners of a picture in pixels, counter-clockwise as seen from its lower left.
std::array<Vec2, 4> picture_corners(PictureSize size);

// The chart place of a pixel; of a lay in the chart also beside the wall.
std::optional<ChartPoint> chart_place(const ChartedWall& wall, const PlacedPicture& picture, Vec2 pixel);

// The pixel of a chart place; beside the wall only of a lay in the chart.
std::optional<Vec2> pixel_there(const ChartedWall& wall, const PlacedPicture& picture, ChartPoint place);

}  // namespace pontata
