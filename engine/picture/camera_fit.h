// Where a photograph was taken from: resection of a camera from places whose coordinates are known.
//
// Based on: Hartley & Zisserman, "Multiple View Geometry", 2004, ch. 7 (resection); Brown, 1966 (radial distortion).
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "engine/picture/camera.h"

namespace pontata {

struct SpacePoint {
  Vec2 pixel;
  Vec3 place;  // m, in the building
};

struct CameraFitOptions {
  std::optional<double> focal_px;  // a known lens; else it is found too
  bool may_distort = true;         // k1, then k2, where they earn their keep
};

struct CameraFit {
  // Distinct cameras whose misfit the points cannot tell apart (within chance), best first, at most 4.
  std::vector<Camera> cameras;
  std::vector<double> rms_px;  // of each, per coordinate
  bool distorted = false;      // the first one has k1 or k2
};

// Global: no starting guess is asked for. Planar and spatial points. The middle of the picture is taken as the lens's
// axis. Refuses fewer than 4 points (5 with an unknown lens) and points that fix nothing, with the reason.
Result<CameraFit> fit_camera(PictureSize picture, std::span<const SpacePoint> points,
                             const CameraFitOptions& options = {});

}  // namespace pontata
