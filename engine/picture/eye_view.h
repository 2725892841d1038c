// The picture as it will look from one place: the walls with what lies on them, seen through a camera.
#pragma once

#include <span>

#include "engine/picture/draped.h"

namespace pontata {

// A wall that is looked at; without draped pictures it is bare.
struct SeenWall {
  WallRef wall;
  DrapedRef draped;
};

struct EyeViewOptions {
  int rays = 4;        // each way, of a pixel that an edge runs through or that sees a wall aslant
  bool shaded = true;  // bare wall and the backs of walls are shaded by how they are turned; pictures never are
};

// Every ray takes the colour of the nearest wall it meets: the draped pictures over the bare wall on its painted side,
// plain masonry on its back; where it meets none, a calm background. The pictures are read as wide as a ray is on the
// wall. Needs no display. Two threads and more; the same bytes for any number of
// them. A Problem for a size of no pixels or more than 100 megapixels, no walls, or where no ray meets any. Cancelled:
// Problem "stopped".
Result<Image> eye_view(std::span<const SeenWall> walls, const Camera& camera, PictureSize size,
                       const EyeViewOptions& options = {}, Progress* progress = nullptr);

}  // namespace pontata
