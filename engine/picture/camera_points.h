// Places and marks of a camera in reduced lengths (camera_refine.h), and what makes them unusable.
#pragma once

#include <optional>
#include <span>

#include "engine/picture/camera_fit.h"
#include "engine/picture/camera_refine.h"

namespace pontata {

struct Reduction {
  Vec3 middle{0, 0, 0};  // of the places, m
  double spread_m = 1;   // one reduced length
  Vec2 middle_px{0, 0};  // of the picture
  double one_px = 1;     // a pixel in reduced lengths
  double corner_px = 0;  // from the middle of the picture to its corner
};

// Precondition: unusable() finds nothing.
Reduction reduction_of(PictureSize picture, std::span<const SpacePoint> points);
ReducedPoints reduced_points(std::span<const SpacePoint> points, const Reduction& reduction);
ReducedCamera reduced_camera(const Camera& camera, const Reduction& reduction);
Camera building_camera(const ReducedCamera& camera, const Reduction& reduction);

// Why no camera can be looked for: an empty picture, numbers that are not usable, too few distinct places, all on a
// line; nothing where it can.
std::optional<Problem> unusable(PictureSize picture, std::span<const SpacePoint> points,
                                const CameraFitOptions& options);

// The answers where none is found.
Problem no_camera();
Problem only_from_behind();
Problem fixes_nothing();

}  // namespace pontata
