// One picture of a wall: its pixels, where they lie, and how much of them shows.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/base/ids.h"
#include "engine/picture/control_points.h"
#include "engine/picture/lay.h"
#include "engine/picture/picture_source.h"

namespace pontata {

// Pixels from the upper left; right and bottom are one past the last.
struct PixelBox {
  double left = 0, top = 0, right = 0, bottom = 0;
  bool operator==(const PixelBox&) const = default;
};

// Closed, within a millionth of a pixel.
bool holds(const PixelBox& box, Vec2 pixel);

struct PlacedPicture {
  PictureId id;
  std::string name;
  std::string path, sha256;  // of the file when it was brought in
  PictureSize size;          // pixels
  PictureRef pixels;         // null where the file is gone: what needs the picture says so
  Lay lay;
  ThinPlate plate;               // none where it has no centres
  std::optional<PixelBox> crop;  // only this part shows
  std::vector<Vec2> mask;        // and of it only what lies inside this closed outline, pixels; empty: all
  double fade = 0;               // 0 shows fully .. 1 not at all
  // Where it was set by points: the points, in the order given, and what was asked for; so that it can be set again.
  std::vector<ControlPoint> points;
  FitOptions fit;
};
using PlacedRef = std::shared_ptr<const PlacedPicture>;

// Where it shows, 0..1: crop, mask (even-odd) and fade, not the picture's own opacity; 0 beyond the picture. O(mask);
// for many places see shown_area.h.
double shown_at(const PlacedPicture& picture, Vec2 pixel);

// The two look the same on a wall: same pixels, lay, plate, crop, mask and fade, whatever their names and points.
bool same_look(const PlacedPicture& a, const PlacedPicture& b);

// The picture itself, or what its crop leaves of it; right < left or bottom < top where nothing is left.
PixelBox cropped(const PlacedPicture& picture);

// The edge a->b crosses the ray from p to the right; a place is inside an outline that an odd number of edges does so
// for.
bool crosses_rightward(Vec2 a, Vec2 b, Vec2 p);

}  // namespace pontata
