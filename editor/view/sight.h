// What a view sees of a wall's surface, and how finely it has to be drawn: which pieces are in view, from which side,
// and which level of detail is true to less than a given distance on screen.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "editor/view/surface_levels.h"
#include "editor/view/view_frame.h"

namespace pontata {

// The part of space or chart that a frame shows, relative to a drawing's origin.
class ViewSight {
 public:
  ViewSight(const ViewFrame& frame, const Vec3& origin);

  bool in_view(const SurfacePiece& piece) const;  // false only when no part of it is
  enum class Side { painted, back, both };
  Side side(const SurfacePiece& piece) const;
  // px on screen of one metre, at the part of the piece that is nearest to the eye.
  double metre_px(const SurfacePiece& piece) const;

  const Vec3& eye() const { return eye_; }  // relative to the origin

 private:
  bool flat_;
  std::array<glm::dvec4, 6> planes_;  // inside: dot(plane, (place, 1)) >= 0
  Vec3 eye_;
  Vec2 low_, high_;  // chart m
  double px_;        // of a metre: flat, or at 1 m
};

// px of one metre at the nearest part in view; 0 when nothing is in view.
double nearest_metre_px(const SurfaceLevel& level, const ViewSight& sight);
// Triangles of the pieces in view.
std::size_t triangles_in_view(const SurfaceLevel& level, const ViewSight& sight);

// A wall whose level is to be chosen.
struct SeenSurface {
  std::span<const SurfaceLevel> levels;
  ViewSight sight;
};
// The coarsest level of each wall whose error stays below detail.error_px on screen; all walls coarser by equal steps,
// up to kCoarsestPx, while more than detail.most_triangles are in view. `error_px` of the result is what was allowed in
// the end.
struct ChosenLevels {
  std::vector<std::size_t> level;  // by surface
  double error_px = 0;
};
ChosenLevels choose_levels(std::span<const SeenSurface> surfaces, const Detail& detail);

// Finds how many triangles keep a frame within its time while the eye moves.
class DetailBudget {
 public:
  // A moving frame with this many triangles took so long.
  void took(double seconds, std::size_t triangles);
  std::size_t most_triangles() const { return most_; }

 private:
  std::size_t most_ = 100'000;
};

}  // namespace pontata
