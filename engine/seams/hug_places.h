// Where a click may be drawn to: the places on contours near it.
#pragma once

#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/picture/contours.h"

namespace pontata {

struct HugPlace {
  Vec2 at{0, 0};     // chart metres
  double off_m = 0;  // surface metres from the click
};

// The nearest place of each contour of at least `strength` that passes p within `reach_m` surface metres, or less where
// the contour does not stand out plainly from its surroundings (stands_out in hug_cost.h); with it another about as
// strong and little farther off, as the other edge of a dark line is. Sub-pixel, nearest first, at most three. A place
// p that lies on a contour is its own and only answer, so that asking again with an answer gives that answer. Empty
// when there is none.
std::vector<HugPlace> contour_places(const ChartedWall& wall, const ContourField& field, Vec2 p, double reach_m,
                                     double strength);

}  // namespace pontata
