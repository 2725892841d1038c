// A camera, or an eye: perspective projection with radial distortion.
//
// Based on: Hartley & Zisserman, "Multiple View Geometry", 2004, section 6.1 (pinhole); Brown, "Decentering distortion
// of lenses", 1966 (radial terms).
#pragma once

#include <glm/mat3x3.hpp>
#include <optional>

#include "engine/base/vec.h"
#include "engine/picture/placement.h"

namespace pontata {

using Mat3 = glm::dmat3;

struct Camera {
  Vec3 eye{0, 0, 0};       // m, in the building
  Vec3 right{1, 0, 0};     // unit, orthogonal: the picture's right,
  Vec3 down{0, 0, -1};     // its lower edge,
  Vec3 ahead{0, 1, 0};     // and what it looks at; ahead = right x down
  double focal_px = 1000;  // both ways: pixels are square
  Vec2 middle_px{0, 0};    // where the line of sight meets the picture
  double k1 = 0, k2 = 0;   // radial distortion: factor 1 + k1 r^2 + k2 r^4, r in focal lengths, undistorted
  bool operator==(const Camera&) const = default;
};

// Pixel of a place in the building; nothing behind the eye, or where the distortion would fold the picture over.
std::optional<Vec2> project(const Camera& camera, const Vec3& place);
// Unit direction from the eye of a pixel: the inverse of project() by Newton's method, to 1e-10; nothing beyond the
// fold.
std::optional<Vec3> sight_line(const Camera& camera, Vec2 pixel);

// An eye at `eye` that looks at `look` with `up` upward; the picture's width spans `angle_deg` (0 < angle < 170), its
// middle is the line of sight. A Problem where eye and look agree, or up runs along the line of sight.
Result<Camera> eye_camera(const Vec3& eye, const Vec3& look, const Vec3& up, double angle_deg, PictureSize picture);

}  // namespace pontata
