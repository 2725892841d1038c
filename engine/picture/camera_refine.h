// A camera set by least squares on the distances between marks and images: Levenberg and Marquardt's way down.
//
// Lengths here are reduced: places about their middle in their root mean square distance from it, marks about the
// picture's middle in the picture's longer side. In the building: X_camera = turn * place + t.
#pragma once

#include <Eigen/Dense>
#include <vector>

namespace pontata {

struct ReducedPoints {
  std::vector<Eigen::Vector3d> places;
  std::vector<Eigen::Vector2d> marks;
  double reach = 0;   // from the picture's middle to its corner, or to the farthest mark
  double one_px = 0;  // a pixel in these lengths
};

// The middle of the places is imaged at `at`, a unit length there `e^size` long, from the distance e^depth along the
// line of sight. So the focal length is e^(size + depth): what the points fix well (turn, at, size) stands apart from
// what they may fix badly (depth).
struct ReducedCamera {
  Eigen::Matrix3d turn = Eigen::Matrix3d::Identity();
  Eigen::Vector2d at{0, 0};
  double size = 0, depth = 0;
  double k1 = 0, k2 = 0;

  double log_focal() const { return size + depth; }
  Eigen::Vector3d shift() const;  // t
};

// What is let move besides turn, at and size.
struct Freedom {
  bool focal = true;  // else the focal length stays as it is
  bool k1 = false, k2 = false;
  int count() const { return 6 + focal + k1 + k2; }
};

// A weak guess of the focal length, as one more observation: weight * (log_focal - usual); 0: none.
struct FocalGuess {
  double usual = 0, weight = 0;
};

struct Refined {
  ReducedCamera camera;
  double misfit = 0;  // sum of squares over both coordinates of all points; infinite where a point is not in front
  double total = 0;   // with the guess
};

// From `start` to the nearest least total, all points in front, without a fold within reach. Never ends higher than it
// began; `steps` bounds the work. Where the start is not usable its misfit is infinite.
//
// Based on: Marquardt, "An algorithm for least-squares estimation of nonlinear parameters", 1963.
Refined refine_camera(const ReducedPoints& points, const ReducedCamera& start, Freedom freedom, FocalGuess guess,
                      int steps);

// Square sums of misfits only.
double camera_misfit(const ReducedPoints& points, const ReducedCamera& camera);

// What the points alone say there: variance of the logarithm of the focal length, per square of one coordinate's
// error; infinite where it is free. And the least eigenvalue of the (scaled to ones on the diagonal) equations with
// the guess: about 0 where the points leave something else free.
struct CameraFirmness {
  double focal_variance = 0;
  double least_eigenvalue = 0;
};
CameraFirmness camera_firmness(const ReducedPoints& points, const ReducedCamera& camera, Freedom freedom,
                               FocalGuess guess);

}  // namespace pontata
