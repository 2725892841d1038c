// A picture laid by size and place, told back and moved by hand.
#pragma once

#include "engine/document/picture_edits.h"

namespace pontata {

// What to ask for so that the picture lies as it does (no alignment); nothing for one that was set by points or is seen
// from a place. By plan or elevation, where the picture's corner falls beside the wall, `at` is the nearest place on
// it.
std::optional<BySize> by_size_of(const ChartedWall& wall, const PlacedPicture& picture);

// The lay moved so that what lies at `from` comes to from + by (chart m), and the way as shift_picture() takes it.
// Nothing where it is not laid by size, or by plan or elevation where one of the places is not on the wall.
struct MovedLay {
  Lay lay;
  Vec2 by{0, 0};
};
std::optional<MovedLay> moved_along(const ChartedWall& wall, const PlacedPicture& picture, ChartPoint from, Vec2 by);

// The lay `factor` times as large, with the place of the pixel `kept` where it is. Nothing where it is not laid by
// size.
std::optional<Lay> scaled_about(const PlacedPicture& picture, Vec2 kept, double factor);

}  // namespace pontata
