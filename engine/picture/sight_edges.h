// Where on a picture what its eye sees may change: the outlines of walls as that eye sees them.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/picture/camera.h"
#include "engine/picture/placed_picture.h"

namespace pontata {

// Edges of the triangles of all walls at which a wall ends or turns its other side to the eye, marked on a grid of
// cells over a part of the picture. Away from them, and from where walls run through each other, a wall that stands
// before another one hides it throughout or nowhere. O(triangles of the walls).
class SightEdges {
 public:
  SightEdges(const Camera& camera, std::span<const WallRef> walls, const PixelBox& part);
  // Such an edge may pass through the box of pixels; never false when one does.
  bool may_pass(const PixelBox& box) const;

 private:
  void mark(const Camera& camera, const Vec3& a, const Vec3& b, int depth);
  int column(double x) const;
  int row(double y) const;

  PixelBox part_;
  double per_x_ = 1, per_y_ = 1;  // cells a pixel
  int columns_ = 1, rows_ = 1;
  std::vector<std::uint8_t> marked_;
};

}  // namespace pontata
