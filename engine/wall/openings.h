// Doors, windows and niches that are not painted: their outlines in the chart.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/base/result.h"
#include "engine/base/vec.h"

namespace pontata {

enum class OpeningKind { rect, arched, round, free };

// Chart metres. rect, arched: `at` is the lower left corner; an arched opening ends in a half circle of radius width/2,
// its height counts to the crown of that. round: `at` is the centre, `width` the diameter. free: the outline's points.
struct Opening {
  OpeningKind kind = OpeningKind::rect;
  ChartPoint at;
  double width = 0, height = 0;
  std::vector<ChartPoint> outline;  // free only
  bool operator==(const Opening&) const = default;
};

std::string_view opening_name(OpeningKind kind);  // "rect", "arched", "round", "free"

// "rect:U,V,W,H", "arched:U,V,W,H", "round:U,V,D", "free:FILE" (lines of u v), lengths with or without units.
Result<Opening> parse_opening(std::string_view text);

// Its corners, counter-clockwise; arcs as chords that leave the arc by at most `sagitta` (m) and hold the arc's own
// area. Refuses sizes that are not more than 0, an arched opening lower than its half circle, a free outline of fewer
// than 3 points or that crosses itself.
Result<std::vector<Vec2>> opening_outline(const Opening& opening, double sagitta);

}  // namespace pontata
