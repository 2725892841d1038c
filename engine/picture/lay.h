// How a picture lies on a wall: a map from places of the wall to pixels of the picture.
#pragma once

#include <variant>
#include <vector>

#include "engine/picture/camera.h"
#include "engine/picture/placement.h"

namespace pontata {

// By plan or elevation: every place that faces the view takes the pixel it is seen behind, looking along up x right
// (plane_lay.h).
struct PlaneLay {
  Vec3 corner{0, 0, 0};              // the picture's lower left corner, m in the building
  Vec3 right{1, 0, 0}, up{0, 0, 1};  // unit, orthogonal
  double width = 1, height = 1;      // m along right and up
  bool operator==(const PlaneLay&) const = default;
};

// A flat wall's chart place (u, v, 1) to pixels (x, y, w), y down.
struct HomographyLay {
  Mat3 pixel_from_chart{1.0};
  bool operator==(const HomographyLay&) const = default;
};

// Seen from one place: a photograph's camera, or the eye a design is made for. What the eye does not see stays bare.
struct CameraLay {
  Camera camera;
  bool operator==(const CameraLay&) const = default;
};

using Lay = std::variant<PictureFrame, PlaneLay, HomographyLay, CameraLay>;  // PictureFrame: unrolled, in the chart

// A smooth correction in pixels on top of a lay: sum of weights * r^2 log r about centres, plus affine. Centres are
// pixels of the lay beneath it. Empty: none.
//
// Based on: Bookstein, "Principal warps", 1989; Wahba, "Spline Models for Observational Data", 1990 (smoothing).
struct ThinPlate {
  double scale_px = 1;                            // r is taken in these
  std::vector<Vec2> centres, weights;             // pixels; pixels
  Vec2 constant{0, 0}, per_x{0, 0}, per_y{0, 0};  // px, px per scale, about pixel (0, 0)
  Vec2 at(Vec2 pixel) const;                      // the correction there, px
  bool operator==(const ThinPlate&) const = default;
};

// Pixel (x right, y down) shown at a wall place: its chart place p and its place in the building. Nothing behind an
// eye. May lie beyond the picture. Whether the eye sees the place is not asked here (sight.h).
std::optional<Vec2> pixel_at(const Lay& lay, const ThinPlate& plate, PictureSize picture, ChartPoint p,
                             const Vec3& place);

// The eye of a lay that is seen from one place; nothing for the others.
std::optional<Vec3> eye_of(const Lay& lay);

}  // namespace pontata
