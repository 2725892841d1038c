// Where the search for a camera begins: poses from three points for each of a ladder of focal lengths.
//
// Based on: Grunert 1841 as in Haralick, Lee, Ottenberg, Nölle, "Review and analysis of solutions of the three point
// perspective pose estimation problem", 1994.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "engine/picture/camera_refine.h"

namespace pontata {

struct Pose {
  Eigen::Matrix3d turn;
  Eigen::Vector3d shift;  // in the camera: turn * place + shift
};

// The up to four poses from which three places are seen along three unit directions (z > 0), lengths as the places'.
// Where chance has driven two poses into the complex plane their common real part is given.
std::vector<Pose> three_point_poses(const std::array<Eigen::Vector3d, 3>& places,
                                    const std::array<Eigen::Vector3d, 3>& directions);

// A focal length (in the picture's longer side) with the directions in which the marks are seen with it.
struct LensTry {
  double focal = 1;
  double k1 = 0, k2 = 0;
};

// The best few starts of each lens, all points in front. Deterministic.
std::vector<ReducedCamera> camera_starts(const ReducedPoints& points, std::span<const LensTry> lenses);

// The same points seen mirrored in depth: the second pose of flat, distant or few points.
//
// Based on: Schweighofer and Pinz, "Robust pose estimation from a planar target", 2006.
ReducedCamera mirrored_in_depth(const ReducedPoints& points, const ReducedCamera& camera);

}  // namespace pontata
