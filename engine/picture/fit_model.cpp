#include "engine/picture/fit_model.h"

#include <algorithm>
#include <cmath>

#include "engine/base/parallel.h"
#include "engine/picture/camera_fit.h"
#include "engine/picture/fit_homography.h"
#include "engine/picture/fit_thin_plate.h"

namespace pontata {

namespace {

constexpr double kStep = 1e-4;  // chart m, of the slopes of pixels

std::vector<PlanePair> in_chart(std::span<const MarkedPoint> points) {
  std::vector<PlanePair> pairs;
  for (const auto& p : points) pairs.push_back({p.pixel, to_vec(p.chart)});
  return pairs;
}

std::optional<Vec2> shown(const Setting& s, PictureSize picture, const MarkedPoint& p, double du = 0, double dv = 0) {
  return pixel_at(s.lay, s.plate, picture, {p.chart.u + du, p.chart.v + dv}, p.place + du * p.per_u + dv * p.per_v);
}

std::size_t chosen(const FitTask& task, const std::vector<Camera>& cameras) {
  if (!task.near) return task.pose < static_cast<int>(cameras.size()) ? static_cast<std::size_t>(task.pose) : 0;
  std::size_t best = 0;
  for (std::size_t k = 1; k < cameras.size(); ++k)
    if (glm::distance(cameras[k].eye, *task.near) < glm::distance(cameras[best].eye, *task.near)) best = k;
  return best;
}

Result<int> set_similarity(const FitTask& task, std::span<const MarkedPoint> points, Setting& out) {
  auto frame = fit_similarity(task.picture, in_chart(points));
  if (!frame) return frame.problem();
  out.lay = *frame;
  return 4;
}

Result<int> set_homography(const FitTask&, std::span<const MarkedPoint> points, Setting& out) {
  auto matrix = fit_homography(in_chart(points));
  if (!matrix) return matrix.problem();
  out.lay = HomographyLay{*matrix};
  return 8;
}

// Free numbers: place, direction and lens, and what distortion was taken.
Result<int> set_camera(const FitTask& task, std::span<const MarkedPoint> points, Setting& out) {
  std::vector<SpacePoint> pairs;
  for (const auto& p : points) pairs.push_back({p.pixel, p.place, glm::cross(p.per_u, p.per_v)});
  CameraFitOptions options;
  options.focal_px = task.focal_px;
  options.start = task.start;
  auto fit = fit_camera(task.picture, pairs, options);
  if (!fit) return fit.problem();
  out.cameras = std::move(fit->cameras);
  out.lens_open = fit->lens_open;
  out.camera = chosen(task, out.cameras);
  const Camera& taken = out.cameras[out.camera];
  out.lay = CameraLay{taken};
  return 6 + !task.focal_px + (taken.k1 != 0) + (taken.k2 != 0);
}

// The correction from what the lay leaves over.
ThinPlate plate_over(const Setting& s, PictureSize picture, std::span<const MarkedPoint> points) {
  std::vector<Vec2> centres, wanted;
  for (const auto& p : points) {
    const auto at = shown(s, picture, p);
    if (!at) return {};
    centres.push_back(*at);
    wanted.push_back(p.pixel - *at);
  }
  return earned_plate(centres, wanted);
}

Misfit misfit_of(const Setting& s, PictureSize picture, std::span<const MarkedPoint> points, int free) {
  Misfit m;
  m.spare = 2 * static_cast<int>(points.size()) - free;
  for (const auto& p : points) {
    const double px = error_at(s, picture, p).px;
    m.sum += px * px;
  }
  return m;
}

}  // namespace

Result<Setting> set_picture(const FitTask& task, std::span<const MarkedPoint> points) {
  Setting out;
  const auto free = task.kind == FitKind::camera       ? set_camera(task, points, out)
                    : task.kind == FitKind::homography ? set_homography(task, points, out)
                                                       : set_similarity(task, points, out);
  if (!free) return free.problem();
  out.misfit = misfit_of(out, task.picture, points, *free);
  return out;
}

Setting with_plate(Setting setting, PictureSize picture, std::span<const MarkedPoint> points) {
  setting.plate = plate_over(setting, picture, points);
  return setting;
}

PointError error_at(const Setting& s, PictureSize picture, const MarkedPoint& p) {
  const double diagonal = std::hypot(picture.width, picture.height);
  const auto at = shown(s, picture, p);
  const auto u0 = shown(s, picture, p, -kStep), u1 = shown(s, picture, p, kStep);
  const auto v0 = shown(s, picture, p, 0, -kStep), v1 = shown(s, picture, p, 0, kStep);
  // Nowhere to be seen: a picture's breadth off, on a wall of some metres.
  if (!at || !u0 || !u1 || !v0 || !v1) return {diagonal, 1e4};
  const Vec2 off = p.pixel - *at, per_u = (*u1 - *u0) / (2 * kStep), per_v = (*v1 - *v0) / (2 * kStep);
  // The step in the chart that moves the pixel there; seen edge-on, a wall shows at least a thousandth of its face.
  const double most = std::max(glm::dot(per_u, per_u), glm::dot(per_v, per_v));
  const double turn = cross2(per_u, per_v);
  const double det = std::copysign(std::max(std::abs(turn), 1e-3 * most), turn);
  const double du = cross2(off, per_v) / det, dv = cross2(per_u, off) / det;
  const auto& [E, F, G] = p.form;
  return {glm::length(off), 1000 * std::sqrt(std::max(0.0, E * du * du + 2 * F * du * dv + G * dv * dv))};
}

namespace {

// The misfit of all points with the freedom that sufficed without one of them.
std::optional<Misfit> alike(FitTask task, std::span<const MarkedPoint> points, const Setting& whole,
                            const Setting& without) {
  if (task.kind != FitKind::camera) return whole.misfit;
  task.start = without.cameras[without.camera];
  const auto all = set_picture(task, points);
  return all ? std::optional(all->misfit) : std::nullopt;
}

}  // namespace

LeftOut leave_out(FitTask task, std::span<const MarkedPoint> points, const Setting& whole, bool thin_plate) {
  if (task.kind == FitKind::camera) {
    const Camera& taken = whole.cameras[whole.camera];
    if (whole.cameras.size() > 1) task.near = taken.eye;
    if (points.size() == 5 && !task.focal_px) {
      task.near = taken.eye;
      task.focal_px = taken.focal_px;
    }
  }
  LeftOut out;
  out.errors.resize(points.size());
  out.with_plate.resize(points.size());
  out.misfits.resize(points.size());
  out.alike.resize(points.size());
  for_blocks(points.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      std::vector<MarkedPoint> others(points.begin(), points.end());
      others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
      const auto without = set_picture(task, others);
      if (!without) continue;
      out.errors[i] = error_at(*without, task.picture, points[i]);
      out.misfits[i] = without->misfit;
      out.alike[i] = alike(task, points, whole, *without);
      if (thin_plate) out.with_plate[i] = error_at(with_plate(*without, task.picture, others), task.picture, points[i]);
    }
  });
  return out;
}

}  // namespace pontata
