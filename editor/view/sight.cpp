#include "editor/view/sight.h"

#include <algorithm>
#include <cmath>
#include <glm/gtc/matrix_access.hpp>

namespace pontata {
namespace {

constexpr double kFrameSeconds = 0.033;  // wanted while the eye moves: 30 frames a second
constexpr std::size_t kLeastTriangles = 15'000;

std::array<glm::dvec4, 6> planes_of(const glm::dmat4& clip) {
  const glm::dvec4 x = glm::row(clip, 0), y = glm::row(clip, 1), z = glm::row(clip, 2), w = glm::row(clip, 3);
  return {w + x, w - x, w + y, w - y, w + z, w - z};
}

}  // namespace

ViewSight::ViewSight(const ViewFrame& frame, const Vec3& origin)
    : flat_(frame.kind == ViewKind::flat),
      planes_(planes_of(glm::dmat4(frame.space.clip(frame.size(), origin)))),
      eye_(frame.space.eye - origin),
      low_(to_vec(frame.flat.from_px({0, frame.size().height}, frame.size()))),
      high_(to_vec(frame.flat.from_px({frame.size().width, 0}, frame.size()))),
      px_(flat_ ? frame.flat.metre_px : frame.space.metre_px(frame.space.eye + frame.space.forward(), frame.size())) {}

bool ViewSight::in_view(const SurfacePiece& piece) const {
  if (flat_)
    return piece.chart_high.x >= low_.x && piece.chart_low.x <= high_.x && piece.chart_high.y >= low_.y &&
           piece.chart_low.y <= high_.y;
  return std::all_of(planes_.begin(), planes_.end(), [&](const glm::dvec4& plane) {
    const Vec3 n(plane);
    const Vec3 farthest{n.x > 0 ? piece.high.x : piece.low.x, n.y > 0 ? piece.high.y : piece.low.y,
                        n.z > 0 ? piece.high.z : piece.low.z};
    return glm::dot(n, farthest) + plane.w >= 0;
  });
}

ViewSight::Side ViewSight::side(const SurfacePiece& piece) const {
  if (flat_) return Side::painted;
  const Vec3 to_eye = eye_ - 0.5 * (piece.low + piece.high);
  const double radius = 0.5 * glm::length(piece.high - piece.low);
  const double along = glm::dot(to_eye, piece.facing), least = piece.turn * glm::length(to_eye) + radius;
  return along >= least ? Side::painted : along <= -least ? Side::back : Side::both;
}

double ViewSight::metre_px(const SurfacePiece& piece) const {
  if (flat_) return px_;
  const double distance = glm::length(glm::clamp(eye_, piece.low, piece.high) - eye_);
  return px_ / std::max(distance, 0.01);
}

double nearest_metre_px(const SurfaceLevel& level, const ViewSight& sight) {
  double px = 0;
  for (const SurfacePiece& piece : level.pieces)
    if (sight.in_view(piece)) px = std::max(px, sight.metre_px(piece));
  return px;
}

std::size_t triangles_in_view(const SurfaceLevel& level, const ViewSight& sight) {
  std::size_t indices = 0;
  for (const SurfacePiece& piece : level.pieces)
    if (sight.in_view(piece)) indices += piece.count;
  return indices / 3;
}

ChosenLevels choose_levels(std::span<const SeenSurface> surfaces, const Detail& detail) {
  ChosenLevels out{std::vector<std::size_t>(surfaces.size(), 0), detail.error_px};
  if (!detail.reduced()) return out;
  std::vector<double> metre_px;
  for (const SeenSurface& s : surfaces) metre_px.push_back(nearest_metre_px(s.levels.front(), s.sight));
  while (true) {
    std::size_t triangles = 0;
    bool coarsest = true;
    for (std::size_t i = 0; i < surfaces.size(); ++i) {
      const auto levels = surfaces[i].levels;
      std::size_t& level = out.level[i];
      while (level + 1 < levels.size() && levels[level + 1].error * metre_px[i] <= out.error_px) ++level;
      coarsest &= level + 1 == levels.size();
      triangles += triangles_in_view(levels[level], surfaces[i].sight);
    }
    if (coarsest || triangles <= detail.most_triangles || out.error_px >= kCoarsestPx) return out;
    out.error_px = std::min(out.error_px * 1.25, kCoarsestPx);
  }
}

void DetailBudget::took(double seconds, std::size_t triangles) {
  const double now = static_cast<double>(triangles);
  if (seconds > kFrameSeconds)
    most_ = std::max(kLeastTriangles, static_cast<std::size_t>(now * std::max(kFrameSeconds / seconds, 0.3)));
  else if (seconds < 0.4 * kFrameSeconds && now > 0.3 * static_cast<double>(most_))
    most_ = std::min<std::size_t>(most_ * 2, 50'000'000);
}

}  // namespace pontata
