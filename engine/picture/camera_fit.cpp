#include "engine/picture/camera_fit.h"

#include <algorithm>
#include <boost/math/distributions/fisher_f.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "engine/picture/camera_points.h"
#include "engine/picture/camera_refine.h"
#include "engine/picture/camera_start.h"

namespace pontata {

namespace {

constexpr double kUsualFocal = 1.2, kUsualFactor = 2;  // in longer sides; one standard deviation of its logarithm
constexpr double kLeastErrorPx = 0.02;                 // of the guess's weight
constexpr double kMarkErrorPx = 0.2;                   // marks are no better
constexpr double kAgree = 0.95, kEarn = 0.99;          // levels of the tests
constexpr std::size_t kPointsForK1 = 7, kPointsForK2 = 9, kMostCameras = 4, kFollowed = 12;
constexpr int kFirstSteps = 12, kSteps = 100;
constexpr double kShortest = 0.3, kLongest = 10;  // the ladder of focal lengths, in longer sides
constexpr int kRungs = 12;

double quantile(double level, int over, int under) {
  return boost::math::quantile(boost::math::fisher_f(over, under), level);
}

struct Job {
  ReducedPoints points;
  Reduction reduction;
  std::span<const SpacePoint> marked;
  Freedom freedom;
  FocalGuess guess;

  int spare() const { return 2 * static_cast<int>(marked.size()) - freedom.count(); }  // degrees of freedom
};

// The guess weighs as one observation of the points' own quality.
FocalGuess guess_for(const Job& job, double misfit) {
  if (!job.freedom.focal) return {};
  const double least = kLeastErrorPx * job.points.one_px;
  const double error = std::max(least, std::sqrt(misfit / std::max(1, job.spare())));
  return {std::log(kUsualFocal), error / std::log(kUsualFactor)};
}

bool same_camera(const ReducedCamera& a, const ReducedCamera& b) {
  constexpr double kTurn = 0.01, kFar = 0.03;  // radians; of the distance
  const Eigen::Vector3d from = a.turn.transpose() * a.shift(), to = b.turn.transpose() * b.shift();
  return Eigen::AngleAxisd(a.turn * b.turn.transpose()).angle() < kTurn && (from - to).norm() < kFar * from.norm();
}

// By total, each camera once, at most `most`.
void keep_distinct(std::vector<Refined>& found, std::size_t most) {
  std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.total < b.total; });
  std::vector<Refined> kept;
  for (const Refined& f : found) {
    if (kept.size() == most || !std::isfinite(f.total)) break;
    const auto same = [&](const Refined& k) { return same_camera(k.camera, f.camera); };
    if (std::none_of(kept.begin(), kept.end(), same)) kept.push_back(f);
  }
  found = std::move(kept);
}

void refine_all(const Job& job, std::vector<Refined>& found, int steps) {
  for (Refined& f : found) f = refine_camera(job.points, f.camera, job.freedom, job.guess, steps);
}

// Refined to the end, with the guess as good as the best of them fits.
void settle(Job& job, std::vector<Refined>& found) {
  for (int round = 0; round < 2; ++round) {
    refine_all(job, found, kSteps);
    keep_distinct(found, kFollowed);
    if (found.empty()) return;
    job.guess = guess_for(job, found[0].misfit);
  }
  refine_all(job, found, kSteps);
  keep_distinct(found, kFollowed);
}

std::vector<LensTry> lenses(const CameraFitOptions& options, const Reduction& reduction) {
  if (options.focal_px) return {{*options.focal_px * reduction.one_px, options.k1, options.k2}};
  std::vector<LensTry> out;
  for (int k = 0; k < kRungs; ++k)
    out.push_back({kShortest * std::pow(kLongest / kShortest, k / (kRungs - 1.0)), 0, 0});
  return out;
}

Camera begun_from(const CameraFitOptions& options) {
  Camera camera = *options.start;
  if (options.focal_px) camera.focal_px = *options.focal_px, camera.k1 = options.k1, camera.k2 = options.k2;
  return camera;
}

std::vector<Refined> search(Job& job, const CameraFitOptions& options) {
  std::vector<Refined> found;
  job.guess = guess_for(job, job.spare() * job.points.one_px * job.points.one_px);
  if (options.start) {
    found.push_back({reduced_camera(begun_from(options), job.reduction), 0, 0});
    settle(job, found);
    return found;
  }
  for (const ReducedCamera& start : camera_starts(job.points, lenses(options, job.reduction)))
    found.push_back(refine_camera(job.points, start, job.freedom, job.guess, kFirstSteps));
  keep_distinct(found, kFollowed);
  refine_all(job, found, kSteps);
  keep_distinct(found, kFollowed);
  const std::size_t straight = found.size();
  for (std::size_t k = 0; k < straight; ++k) found.push_back({mirrored_in_depth(job.points, found[k].camera), 0, 0});
  settle(job, found);
  return found;
}

bool seen_from_front(const Job& job, const ReducedCamera& c) {
  const Camera camera = building_camera(c, job.reduction);
  return std::all_of(job.marked.begin(), job.marked.end(), [&](const SpacePoint& p) {
    constexpr double kGrazing = 0.02;  // a mark on the rim may lie just beyond it
    return glm::dot(camera.eye - p.place, p.normal) >= -kGrazing * glm::length(camera.eye - p.place);
  });
}

// One term of distortion more, kept where the best camera fits better by more than chance.
bool try_term(Job& job, std::vector<Refined>& found, Freedom freedom, std::size_t least_points) {
  if (found.empty() || job.marked.size() < least_points) return false;
  Job more = job;
  more.freedom = freedom;
  std::vector<Refined> better = found;
  settle(more, better);
  if (better.empty() || more.spare() < 1) return false;
  const double gain = found[0].misfit - better[0].misfit, rest = better[0].misfit / more.spare();
  const double least = kLeastErrorPx * kLeastErrorPx * job.points.one_px * job.points.one_px;
  if (!(gain > quantile(kEarn, 1, more.spare()) * std::max(rest, 1e-6 * least))) return false;
  job = more;
  found = std::move(better);
  return true;
}

void try_distortion(Job& job, std::vector<Refined>& found) {
  Freedom freedom = job.freedom;
  freedom.k1 = true;
  if (!try_term(job, found, freedom, kPointsForK1)) return;
  freedom.k2 = true;
  try_term(job, found, freedom, kPointsForK2);
}

void drop_told_apart(const Job& job, std::vector<Refined>& found) {
  if (found.empty()) return;
  const double mark = kMarkErrorPx * job.points.one_px, floor = mark * mark * job.spare();
  const double limit = quantile(kAgree, job.spare(), job.spare()) * (found[0].total + floor) - floor;
  std::erase_if(found, [&](const Refined& f) { return f.total > limit; });
  if (found.size() > kMostCameras) found.resize(kMostCameras);
}

CameraFit answer(const Job& job, const std::vector<Refined>& found) {
  CameraFit out;
  for (const Refined& f : found) {
    out.cameras.push_back(building_camera(f.camera, job.reduction));
    out.rms_px.push_back(std::sqrt(f.misfit / (2.0 * static_cast<double>(job.marked.size()))) / job.points.one_px);
  }
  out.distorted = job.freedom.k1;
  if (!job.freedom.focal) return out;
  // Open: the guess says as much as the points do.
  const double spread = camera_firmness(job.points, found[0].camera, job.freedom, job.guess).focal_variance;
  out.lens_open = !(spread * job.guess.weight * job.guess.weight < 1);
  return out;
}

}  // namespace

Result<CameraFit> fit_camera(PictureSize picture, std::span<const SpacePoint> points, const CameraFitOptions& options) {
  if (const auto problem = unusable(picture, points, options)) return *problem;
  Job job;
  job.reduction = reduction_of(picture, points);
  job.points = reduced_points(points, job.reduction);
  job.marked = points;
  job.freedom.focal = !options.focal_px;
  if (options.start) {
    job.freedom.k1 = options.start->k1 != 0 && !options.focal_px;
    job.freedom.k2 = options.start->k2 != 0 && !options.focal_px;
  }
  auto found = search(job, options);
  if (found.empty()) return no_camera();
  std::erase_if(found, [&](const Refined& f) { return !seen_from_front(job, f.camera); });
  if (found.empty()) return only_from_behind();
  if (options.may_distort && !options.start && options.k1 == 0 && options.k2 == 0) try_distortion(job, found);
  if (camera_firmness(job.points, found[0].camera, job.freedom, job.guess).least_eigenvalue < 1e-12)
    return fixes_nothing();
  drop_told_apart(job, found);
  return answer(job, found);
}

}  // namespace pontata
