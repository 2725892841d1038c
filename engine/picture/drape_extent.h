// Which parts of the working grid a picture may show on, without looking at every sample.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/picture/shown_area.h"

namespace pontata {

// Squares of `side` chart metres over the chart's box, from the lower left; (a, b) covers a * side .. (a + 1) * side.
struct TileExtent {
  double side = 1;  // m
  int across = 0, up = 0;
  std::vector<std::uint8_t> touched;  // row by row

  bool at(int a, int b) const {
    return touched[static_cast<std::size_t>(b) * static_cast<std::size_t>(across) + static_cast<std::size_t>(a)] != 0;
  }
  // Some tile that this box of the chart reaches into is touched.
  bool any(Vec2 low, Vec2 high) const;
};

// The lay's pixel at a wall place with the plate's correction; nothing behind an eye, nor where the plate would have to
// carry a place in from further than a quarter of the picture's longer side (a plate is no good there).
std::optional<Vec2> shown_pixel(const PlacedPicture& picture, ChartPoint p, const Vec3& place);

// The lay needs the place in the building, not only that in the chart.
bool needs_place(const Lay& lay);

// Every tile within `margin` (m) of a place where the picture shows is touched, some others may be. Unrolled lays and
// homographies: the outline of what shows, in the chart; the others: the triangles of the wall whose image meets it.
// O(triangles). `extent` comes with its side and counts.
void touch(const ChartedWall& wall, const PlacedPicture& picture, const ShownArea& area, double margin,
           TileExtent& extent);

// Chart metres that the picture's pixel takes on the wall where it is finest. Lays whose scale is one number (unrolled,
// by plan or elevation): that number, wherever the picture lies. Homographies and cameras: of 16 x 16 places over what
// shows the size that a tenth of them falls below, rounded down to the steps 1, 1.6, 2.5, 4, 6.3 (ISO 3, R5) times a
// power of ten, so that a picture that is moved a little keeps it. 0 where none of these places lies on the wall.
double pixel_on_wall(const ChartedWall& wall, const PlacedPicture& picture, const ShownArea& area);

}  // namespace pontata
