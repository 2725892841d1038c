#include "engine/picture/camera_start.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <limits>

#include "engine/picture/camera.h"

namespace pontata {

namespace {

using Eigen::Matrix3d;
using Eigen::Vector2d;
using Eigen::Vector3d;
using Triple = std::array<std::size_t, 3>;

constexpr std::size_t kSpread = 9;  // points among which triples are taken
constexpr std::size_t kTriples = 10;
constexpr std::size_t kPerLens = 4;

// Real parts of the roots of a quartic that are real within chance. Coefficients from the highest.
std::vector<double> real_roots(std::array<double, 5> a) {
  double most = 0;
  for (const double v : a) most = std::max(most, std::abs(v));
  if (!(most > 0) || !std::isfinite(most)) return {};
  if (std::abs(a[0]) < 1e-13 * most) a[0] = 1e-13 * most;
  Eigen::Matrix4d companion = Eigen::Matrix4d::Zero();
  companion.diagonal(-1).setOnes();
  for (int k = 0; k < 4; ++k) companion(k, 3) = -a[static_cast<std::size_t>(4 - k)] / a[0];
  const Eigen::EigenSolver<Eigen::Matrix4d> solver(companion, false);
  std::vector<double> out;
  for (int k = 0; k < 4; ++k) {
    const std::complex<double> root = solver.eigenvalues()(k);
    if (root.imag() >= 0 && root.imag() <= 0.2 * std::abs(root)) out.push_back(root.real());
  }
  return out;
}

Matrix3d frame(const Vector3d& a, const Vector3d& b, const Vector3d& c) {
  Matrix3d out;
  out.col(0) = (b - a).normalized();
  out.col(2) = out.col(0).cross(c - a).normalized();
  out.col(1) = out.col(2).cross(out.col(0));
  return out;
}

// Squares of the triangle's sides over that of side 13, and cosines between the directions: 23, 13, 12.
struct ThreePoints {
  double a2, c2;  // sides 23 and 12, squared, over side 13 squared
  double cos_a, cos_b, cos_c;
};

// The quartic in v = distance 3 / distance 1: Haralick et al., section "Grunert's solution".
std::array<double, 5> quartic(const ThreePoints& t) {
  const double d = t.a2 - t.c2, s = t.a2 + t.c2;
  const double ca = t.cos_a, cb = t.cos_b, cc = t.cos_c;
  return {(d - 1) * (d - 1) - 4 * t.c2 * ca * ca, 4 * (d * (1 - d) * cb - (1 - s) * ca * cc + 2 * t.c2 * ca * ca * cb),
          2 * (d * d - 1 + 2 * d * d * cb * cb + 2 * (1 - t.c2) * ca * ca - 4 * s * ca * cb * cc +
               2 * (1 - t.a2) * cc * cc),
          4 * (-d * (1 + d) * cb + 2 * t.a2 * cc * cc * cb - (1 - s) * ca * cc),
          (1 + d) * (1 + d) - 4 * t.a2 * cc * cc};
}

// u = distance 2 / distance 1 that goes with v: of the two that side 12 allows, the one that fits side 23.
double second_distance(const ThreePoints& t, double v) {
  const double side = 1 + v * v - 2 * v * t.cos_b;  // side 13 over distance 1, squared
  const double root = std::sqrt(std::max(0.0, t.cos_c * t.cos_c - 1 + t.c2 * side));
  const auto misfit = [&](double u) { return std::abs(u * u + v * v - 2 * u * v * t.cos_a - t.a2 * side); };
  const double near = t.cos_c - root, far = t.cos_c + root;
  return near > 0 && misfit(near) < misfit(far) ? near : far;
}

// Well spread points: each the farthest (on picture and wall together) from those before.
std::vector<std::size_t> spread_points(const ReducedPoints& points) {
  const std::size_t n = points.places.size();
  std::vector<double> far(n, std::numeric_limits<double>::infinity());
  std::size_t next = 0;
  for (std::size_t i = 1; i < n; ++i)
    if (points.marks[i].squaredNorm() > points.marks[next].squaredNorm()) next = i;
  std::vector<std::size_t> out;
  while (out.size() < std::min(n, kSpread)) {
    out.push_back(next);
    for (std::size_t i = 0; i < n; ++i)
      far[i] = std::min(
          far[i], (points.marks[i] - points.marks[next]).norm() * (points.places[i] - points.places[next]).norm());
    next = static_cast<std::size_t>(std::max_element(far.begin(), far.end()) - far.begin());
  }
  std::sort(out.begin(), out.end());
  return out;
}

double triple_worth(const ReducedPoints& p, const Triple& t) {
  const auto flat = [&](std::size_t k) -> const Vector2d& { return p.marks[t[k]]; };
  const auto deep = [&](std::size_t k) -> const Vector3d& { return p.places[t[k]]; };
  const Vector2d a = flat(1) - flat(0), b = flat(2) - flat(0);
  return std::abs(a.x() * b.y() - a.y() * b.x()) * (deep(1) - deep(0)).cross(deep(2) - deep(0)).norm();
}

// The widest triangles; points taken before count against the next.
std::vector<Triple> wide_triples(const ReducedPoints& points) {
  const auto few = spread_points(points);
  std::vector<std::pair<double, Triple>> all;
  for (std::size_t i = 0; i < few.size(); ++i)
    for (std::size_t j = i + 1; j < few.size(); ++j)
      for (std::size_t k = j + 1; k < few.size(); ++k) {
        const Triple t{few[i], few[j], few[k]};
        all.emplace_back(triple_worth(points, t), t);
      }
  std::vector<int> used(points.places.size(), 0);
  std::vector<Triple> out;
  while (out.size() < kTriples && !all.empty()) {
    const auto worth = [&](const auto& entry) {
      int times = 0;
      for (const std::size_t i : entry.second) times += used[i];
      return entry.first / (1 << std::min(times, 20));
    };
    const auto best =
        std::max_element(all.begin(), all.end(), [&](const auto& a, const auto& b) { return worth(a) < worth(b); });
    if (!(best->first > 0)) break;
    out.push_back(best->second);
    for (const std::size_t i : best->second) ++used[i];
    all.erase(best);
  }
  return out;
}

std::vector<Vector3d> directions(const ReducedPoints& points, const LensTry& lens) {
  Camera camera;
  camera.right = {1, 0, 0};
  camera.down = {0, 1, 0};
  camera.ahead = {0, 0, 1};
  camera.focal_px = lens.focal;
  camera.k1 = lens.k1;
  camera.k2 = lens.k2;
  std::vector<Vector3d> out;
  for (const Vector2d& m : points.marks) {
    const auto d = sight_line(camera, {m.x(), m.y()});
    if (!d) return {};
    out.emplace_back(d->x, d->y, d->z);
  }
  return out;
}

ReducedCamera reduced(const Pose& pose, const LensTry& lens) {
  const double size = std::log(lens.focal / pose.shift.z());
  return {.turn = pose.turn,
          .at = pose.shift.head<2>() * std::exp(size),
          .size = size,
          .depth = std::log(pose.shift.z()),
          .k1 = lens.k1,
          .k2 = lens.k2};
}

void add_starts(std::vector<std::pair<double, ReducedCamera>>& out, const ReducedPoints& points, const LensTry& lens,
                const std::vector<Vector3d>& seen, const Triple& t) {
  const auto poses = three_point_poses({points.places[t[0]], points.places[t[1]], points.places[t[2]]},
                                       {seen[t[0]], seen[t[1]], seen[t[2]]});
  for (const Pose& pose : poses) {
    if (!(pose.shift.z() > 0)) continue;
    const ReducedCamera camera = reduced(pose, lens);
    const double misfit = camera_misfit(points, camera);
    if (std::isfinite(misfit)) out.emplace_back(misfit, camera);
  }
}

bool alike(const ReducedCamera& a, const ReducedCamera& b) {
  return (a.turn - b.turn).norm() < 0.05 && std::abs(a.depth - b.depth) < 0.05;
}

}  // namespace

std::vector<Pose> three_point_poses(const std::array<Vector3d, 3>& places, const std::array<Vector3d, 3>& seen) {
  const double side2 = (places[0] - places[2]).squaredNorm();
  const ThreePoints t{.a2 = (places[1] - places[2]).squaredNorm() / side2,
                      .c2 = (places[0] - places[1]).squaredNorm() / side2,
                      .cos_a = seen[1].dot(seen[2]),
                      .cos_b = seen[0].dot(seen[2]),
                      .cos_c = seen[0].dot(seen[1])};
  const Matrix3d on_wall = frame(places[0], places[1], places[2]);
  std::vector<Pose> out;
  for (const double v : real_roots(quartic(t))) {
    const double u = second_distance(t, v), side = 1 + v * v - 2 * v * t.cos_b;
    if (!(v > 0 && u > 0 && side > 0)) continue;
    const double first = std::sqrt(side2 / side);
    const Vector3d a = first * seen[0], b = first * u * seen[1], c = first * v * seen[2];
    const Matrix3d turn = frame(a, b, c) * on_wall.transpose();
    const Vector3d shift = (a + b + c) / 3 - turn * (places[0] + places[1] + places[2]) / 3;
    if (turn.allFinite() && shift.allFinite()) out.push_back({turn, shift});
  }
  return out;
}

std::vector<ReducedCamera> camera_starts(const ReducedPoints& points, std::span<const LensTry> lenses) {
  const auto triples = wide_triples(points);
  std::vector<ReducedCamera> out;
  for (const LensTry& lens : lenses) {
    const auto seen = directions(points, lens);
    if (seen.empty()) continue;
    std::vector<std::pair<double, ReducedCamera>> tries;
    for (const Triple& t : triples) add_starts(tries, points, lens, seen, t);
    std::stable_sort(tries.begin(), tries.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<ReducedCamera> kept;
    for (const auto& [misfit, camera] : tries) {
      const bool known = std::any_of(kept.begin(), kept.end(), [&c = camera](const auto& k) { return alike(k, c); });
      if (!known && kept.size() < kPerLens) kept.push_back(camera);
    }
    out.insert(out.end(), kept.begin(), kept.end());
  }
  return out;
}

ReducedCamera mirrored_in_depth(const ReducedPoints& points, const ReducedCamera& camera) {
  Matrix3d spread = Matrix3d::Zero();
  for (const Vector3d& p : points.places) spread += p * p.transpose();
  const Vector3d flat = Eigen::SelfAdjointEigenSolver<Matrix3d>(spread).eigenvectors().col(0);
  const Vector3d sight = camera.shift().normalized();
  const Matrix3d along = Matrix3d::Identity() - 2 * sight * sight.transpose();
  const Matrix3d across = Matrix3d::Identity() - 2 * flat * flat.transpose();
  ReducedCamera out = camera;
  out.turn = along * camera.turn * across;
  return out;
}

}  // namespace pontata
