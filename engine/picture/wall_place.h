// From a picture back to the wall: where one of its pixels lies.
#pragma once

#include <optional>

#include "engine/picture/placed_picture.h"

namespace pontata {

// The wall place that shows this pixel (x right, y down; may lie beyond the picture): the inverse of pixel_at to 1e-6
// px, also under a thin plate. Seen from an eye it is the first place of this wall on the line of sight, whatever other
// walls stand between; by plan or elevation the nearest one to the front. Nothing where the pixel falls beside the
// wall.
std::optional<ChartPoint> wall_place(const ChartedWall& wall, const PlacedPicture& picture, Vec2 pixel);

}  // namespace pontata
