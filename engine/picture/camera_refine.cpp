#include "engine/picture/camera_refine.h"

#include <cmath>
#include <limits>
#include <optional>

#include "engine/picture/camera.h"

namespace pontata {

namespace {

using Eigen::Matrix3d;
using Eigen::Vector2d;
using Eigen::Vector3d;

constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr double kNear = 1e-6;       // least depth, in the places' spread
constexpr double kLongestStep = 10;  // of all but the distortion together

// Columns: turn 0..2, at 3 4, size 5, depth 6, k1 7, k2 8.
constexpr int kAll = 9;
using Columns = Eigen::Matrix<double, 2, kAll>;
using Square = Eigen::Matrix<double, kAll, kAll>;
using Column = Eigen::Matrix<double, kAll, 1>;
using FreeSquare = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, kAll, kAll>;
using FreeColumn = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, kAll, 1>;
using FreeColumns = Eigen::Matrix<double, kAll, Eigen::Dynamic, 0, kAll, kAll>;

Matrix3d cross_matrix(const Vector3d& v) {
  Matrix3d m;
  m << 0, -v.z(), v.y(), v.z(), 0, -v.x(), -v.y(), v.x(), 0;
  return m;
}

// Rodrigues: the turn by |w| about w.
Matrix3d turn_by(const Vector3d& w) {
  const double angle = w.norm();
  if (angle < 1e-300) return Matrix3d::Identity();
  return Eigen::AngleAxisd(angle, w / angle).toRotationMatrix();
}

bool folds(const ReducedCamera& c, double reach) {
  if (c.k1 == 0 && c.k2 == 0) return false;
  Camera camera;
  camera.focal_px = std::exp(c.log_focal());
  camera.k1 = c.k1;
  camera.k2 = c.k2;
  return !sight_line(camera, {reach, 0});
}

struct Seen {
  Vector3d in_camera;
  Vector2d q;     // in focal lengths, undistorted
  double r2, g;   // its square, and the factor of distortion
  Vector2d miss;  // image - mark
};

// Nothing: behind, or beyond the fold.
std::optional<Seen> see(const ReducedCamera& c, double focal, const Vector3d& turned, const Vector3d& shift,
                        const Vector2d& mark) {
  Seen s{.in_camera = turned + shift, .q = {}, .r2 = 0, .g = 1, .miss = {}};
  if (!(s.in_camera.z() > kNear)) return std::nullopt;
  s.q = s.in_camera.head<2>() / s.in_camera.z();
  s.r2 = s.q.squaredNorm();
  s.g = 1 + s.r2 * (c.k1 + s.r2 * c.k2);
  if (!(s.g > 0 && 1 + s.r2 * (3 * c.k1 + 5 * c.k2 * s.r2) > 0)) return std::nullopt;
  s.miss = focal * s.g * s.q - mark;
  return s;
}

Columns slopes(const ReducedCamera& c, double focal, const Vector3d& turned, const Vector3d& shift, const Seen& s) {
  const double z = s.in_camera.z();
  Eigen::Matrix2d by_q = s.g * Eigen::Matrix2d::Identity() + 2 * (c.k1 + 2 * c.k2 * s.r2) * s.q * s.q.transpose();
  by_q *= focal / z;
  Eigen::Matrix<double, 2, 3> by_place;
  by_place << by_q, -by_q * s.q;
  const Vector2d by_focal = focal * s.g * s.q;  // per logarithm
  Columns out;
  out.leftCols<3>() = -by_place * cross_matrix(turned);
  out.middleCols<2>(3) = by_place.leftCols<2>() * std::exp(-c.size);
  out.col(5) = -by_place.leftCols<2>() * shift.head<2>() + by_focal;
  out.col(6) = by_place.col(2) * shift.z() + by_focal;
  out.col(7) = focal * s.r2 * s.q;
  out.col(8) = focal * s.r2 * s.r2 * s.q;
  return out;
}

struct Equations {
  Square normal = Square::Zero();
  Column pull = Column::Zero();
  double misfit = 0;
};

// Nothing where a point cannot be seen.
std::optional<Equations> equations(const ReducedPoints& points, const ReducedCamera& c, FocalGuess guess) {
  const double focal = std::exp(c.log_focal());
  const Vector3d shift = c.shift();
  Equations e;
  for (std::size_t i = 0; i < points.places.size(); ++i) {
    const Vector3d turned = c.turn * points.places[i];
    const auto seen = see(c, focal, turned, shift, points.marks[i]);
    if (!seen) return std::nullopt;
    const Columns j = slopes(c, focal, turned, shift, *seen);
    e.normal.noalias() += j.transpose() * j;
    e.pull.noalias() += j.transpose() * seen->miss;
    e.misfit += seen->miss.squaredNorm();
  }
  const double w2 = guess.weight * guess.weight, off = c.log_focal() - guess.usual;
  e.normal.block<2, 2>(5, 5).array() += w2;
  e.pull.segment<2>(5).array() += w2 * off;
  return e;
}

// All columns from the free ones. With the focal length held, depth runs against size.
FreeColumns free_columns(Freedom freedom) {
  FreeColumns out;
  out.setZero(kAll, freedom.count());
  out.topLeftCorner<6, 6>().setIdentity();
  int next = 6;
  if (freedom.focal)
    out(6, next++) = 1;
  else
    out(6, 5) = -1;
  if (freedom.k1) out(7, next++) = 1;
  if (freedom.k2) out(8, next++) = 1;
  return out;
}

ReducedCamera moved(const ReducedCamera& c, const Column& step) {
  ReducedCamera out = c;
  out.turn = turn_by(step.head<3>()) * c.turn;
  out.at += step.segment<2>(3);
  out.size += step(5);
  out.depth += step(6);
  out.k1 += step(7);
  out.k2 += step(8);
  return out;
}

Refined measured(const ReducedPoints& points, const ReducedCamera& c, FocalGuess guess) {
  const double misfit = camera_misfit(points, c), off = guess.weight * (c.log_focal() - guess.usual);
  return {c, misfit, misfit + off * off};
}

// Marquardt's: the diagonal grown by the part `damp` of itself.
Column damped_step(const Equations& e, const FreeColumns& free, double damp) {
  FreeSquare normal = free.transpose() * e.normal * free;
  const FreeColumn pull = free.transpose() * e.pull;
  const double least = 1e-14 * normal.diagonal().maxCoeff();
  normal.diagonal() += damp * normal.diagonal().cwiseMax(least);
  return free * (-normal.ldlt().solve(pull));
}

}  // namespace

Vector3d ReducedCamera::shift() const { return {at.x() * std::exp(-size), at.y() * std::exp(-size), std::exp(depth)}; }

double camera_misfit(const ReducedPoints& points, const ReducedCamera& c) {
  if (folds(c, points.reach)) return kInfinite;
  const double focal = std::exp(c.log_focal());
  const Vector3d shift = c.shift();
  double sum = 0;
  for (std::size_t i = 0; i < points.places.size(); ++i) {
    const auto seen = see(c, focal, c.turn * points.places[i], shift, points.marks[i]);
    if (!seen) return kInfinite;
    sum += seen->miss.squaredNorm();
  }
  return std::isfinite(sum) ? sum : kInfinite;
}

Refined refine_camera(const ReducedPoints& points, const ReducedCamera& start, Freedom freedom, FocalGuess guess,
                      int steps) {
  Refined best = measured(points, start, guess);
  if (!std::isfinite(best.total)) return best;
  const auto free = free_columns(freedom);
  double damp = 1e-3;
  auto e = equations(points, start, guess);
  for (int k = 0; k < steps && e; ++k) {
    const Column step = damped_step(*e, free, damp);
    if (!step.allFinite()) break;
    const bool near = step.head<7>().norm() < kLongestStep;
    const Refined next = near ? measured(points, moved(best.camera, step), guess) : Refined{{}, kInfinite, kInfinite};
    const double gain = best.total - next.total;
    const bool at_rest = step.norm() < 1e-14 || damp > 1e12 || std::abs(gain) <= 1e-15 * best.total;
    if (gain >= 0) {
      best = next;
      damp = std::max(damp / 8, 1e-12);
      e = equations(points, best.camera, guess);
    } else {
      damp *= 8;
    }
    if (at_rest) break;
  }
  best.camera.turn = Eigen::Quaterniond(best.camera.turn).normalized().toRotationMatrix();
  return best;
}

CameraFirmness camera_firmness(const ReducedPoints& points, const ReducedCamera& camera, Freedom freedom,
                               FocalGuess guess) {
  const auto with = equations(points, camera, guess);
  if (!with) return {kInfinite, 0};
  const auto free = free_columns(freedom);
  const FreeSquare normal = free.transpose() * with->normal * free;
  const FreeColumn scale = normal.diagonal().cwiseMax(1e-300).cwiseSqrt().cwiseInverse();
  const FreeSquare scaled = scale.asDiagonal() * normal * scale.asDiagonal();
  const Eigen::SelfAdjointEigenSolver<FreeSquare> solver(scaled);
  CameraFirmness out{0, solver.eigenvalues()(0)};
  if (!freedom.focal) return out;
  // d = 1 / variance of the logarithm of the focal length with the guess in; the guess adds weight^2 to it.
  FreeColumn along = FreeColumn::Zero(normal.rows());
  along(5) = along(6) = 1;
  const double variance = along.dot(normal.ldlt().solve(along));
  const double points_alone = 1 / variance - guess.weight * guess.weight;
  out.focal_variance = points_alone > 0 ? 1 / points_alone : kInfinite;
  return out;
}

}  // namespace pontata
