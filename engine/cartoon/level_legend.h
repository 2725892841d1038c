// What stands beside and below the depth map: the scale of depths, what the coat amounts to, a scale bar, cautions.
#pragma once

#include "engine/cartoon/field_lines.h"
#include "engine/cartoon/level_colours.h"
#include "engine/cartoon/level_map.h"

namespace pontata {

inline constexpr Colour kSpotColour{0.72, 0.05, 0.05};  // of the high spots' crosses; they are told by their shape

inline constexpr double kBarWidth = 9, kLegendLine = 4.6;  // mm: of the colour bar; from one line of text to the next

// The ramp of colours upright, with ticks and their words right of it.
void draw_colour_bar(Pages& page, const std::vector<FieldLine>& ticks, const ShareOf& share, Vec2 lower_left,
                     double height);
// What, and its value at the right end of the width; moves `at` to the next line.
void draw_legend_row(Pages& page, Vec2& at, double width, std::string_view what, const std::string& value);

// A white-cased triangle with its point up, `size` mm high, about `place`.
void high_spot_mark(Pages& page, Vec2 place, double size);

// Colour bar with ticks in mm, the marks' meaning and the sums, from its upper left corner downward within `size` mm.
void draw_level_legend(Pages& page, const LevelMap& map, const DepthScale& scale, Vec2 upper_left, Vec2 size);

// Bar of a round length on the chart; `mm_per_m` as the map is drawn. Right of it, how far the flat map stretches.
void draw_scale_bar(Pages& page, const Chart& chart, double mm_per_m, Vec2 lower_left, double width);

// Cautions of a levelling coat in lines that fit the width, upward from `lower_left`; the height they took.
double draw_level_cautions(Pages& page, const LevelMap& map, Vec2 lower_left, double width);

}  // namespace pontata
