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
  Vec3 place;            // m, in the building
  Vec3 normal{0, 0, 0};  // toward the painter: a camera that would see the place from behind is dropped; 0: not known
};

struct CameraFitOptions {
  std::optional<double> focal_px{};  // a known lens; else it is found too
  double k1 = 0, k2 = 0;             // distortion of a known lens; unless both are 0 no other is looked for
  bool may_distort = true;           // k1, then k2, where they earn their keep
  // Begins from this camera and looks nowhere else: one camera, the nearest (with the known lens if one is given); its
  // distortion is kept free if it has any, and none is added. For leaving points out one by one, where the answer is
  // known to be near.
  std::optional<Camera> start{};
};

struct CameraFit {
  // Distinct cameras whose misfit the points cannot tell apart (within chance), best first, at most 4.
  std::vector<Camera> cameras;
  std::vector<double> rms_px;  // of each, per coordinate
  bool distorted = false;      // the first one has k1 or k2 that was found
  bool lens_open = false;  // the points leave the focal length open (a flat wall seen straight on): a usual one taken
};

// Global: no starting guess is asked for. Planar and spatial points. The middle of the picture is taken as the lens's
// axis. Refuses fewer than 4 distinct places (5 with an unknown lens), points that fix nothing (on one line), numbers
// that are not usable, and points that no camera in front of them sees as marked, with the reason. Deterministic.
//
// Criteria:
// - An unknown focal length is guessed at 1.2 of the picture's longer side within a factor of 2, counted as one
//   observation as good as the points turn out to be (at best 0.02 px). So it decides only what the points leave open.
// - Another camera is told apart where its square misfit exceeds the best one's by more than the 95 % quantile of
//   F(v, v), v = coordinates - unknowns; marks count as no better than 0.2 px.
// - k1 needs 7 points, k2 9, and each an F-test at 1 % over the camera without it; the picture must not fold over
//   within its corners.
Result<CameraFit> fit_camera(PictureSize picture, std::span<const SpacePoint> points,
                             const CameraFitOptions& options = {});

}  // namespace pontata
