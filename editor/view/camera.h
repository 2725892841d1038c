// Where the eye is: over the chart (flat view) or in the building (3D view). Pixels count from the upper left of the
// view's own rectangle, y down; places are metres.
#pragma once

#include <glm/mat4x4.hpp>
#include <optional>
#include <span>

#include "engine/base/lattice.h"
#include "engine/chart/charted_wall.h"

namespace pontata {

struct ViewSize {
  double width = 1, height = 1;  // px
};

// Looks straight at the chart, u to the right, v up.
struct FlatCamera {
  Vec2 centre{0, 0};      // chart m at the middle of the view
  double metre_px = 100;  // px per chart metre

  Vec2 to_px(ChartPoint p, ViewSize size) const;
  ChartPoint from_px(Vec2 px, ViewSize size) const;
  void pan(Vec2 moved_px);
  void zoom(double factor, Vec2 at_px, ViewSize size);  // keeps the place under at_px
  glm::mat4 clip(ViewSize size) const;
};
FlatCamera flat_fit(ChartBox box, ViewSize size);

// Perspective; the building's Z stays up.
struct OrbitCamera {
  Vec3 eye{0, -5, 1.6};
  double yaw = 0;                 // radians, 0 looks along +y, counter-clockwise seen from above
  double pitch = 0;               // radians, up positive
  double angle = 0.96;            // radians, of the view's shorter side
  double near = 0.05, far = 100;  // m

  Vec3 forward() const;
  Vec3 right() const;
  Vec3 up() const;
  struct Ray {
    Vec3 origin, direction;  // unit
  };
  Ray ray(Vec2 px, ViewSize size) const;
  std::optional<Vec2> to_px(const Vec3& place, ViewSize size) const;  // nullopt behind the eye
  double metre_px(const Vec3& place, ViewSize size) const;            // px per metre square to the line of sight there

  void orbit(Vec2 moved_px, const Vec3& pivot, ViewSize size);
  void pan(Vec2 moved_px, const Vec3& pivot, ViewSize size);  // the pivot follows the pointer
  void zoom(double factor, const Vec3& toward);               // factor > 1 nears the place
  // Clip matrix for places relative to `origin`.
  glm::mat4 clip(ViewSize size, const Vec3& origin) const;
  // Sets near and far so that a ball is inside.
  void enclose(const Vec3& centre, double radius);
};

// A ball round the wall.
struct Ball {
  Vec3 centre{0, 0, 0};
  double radius = 1;
};
Ball enclosing_ball(const SurfaceMesh& mesh);
Ball enclosing_ball(std::span<const Ball> balls);

// From the painter's side, the whole wall in view; a vault is seen from below and down its length.
OrbitCamera first_view(const ChartedWall& wall, ViewSize size);
// All of several walls in view: from the side that their painted sides face most, and a little from below; a single one
// as above.
OrbitCamera first_view(std::span<const WallRef> walls, ViewSize size);
// Stands before a chart place, square to the surface, `distance` m away.
OrbitCamera view_of(const ChartedWall& wall, ChartPoint place, double distance, const OrbitCamera& from);

// First place of the wall under a ray that shows its painted side, with its chart place.
struct SeenPlace {
  Vec3 place{0, 0, 0};
  ChartPoint chart;
  double distance = 0;
};
std::optional<SeenPlace> seen_place(const ChartedWall& wall, const OrbitCamera::Ray& ray);
// The same among several walls: the nearest painted side. Walls seen from behind hide nothing.
struct SeenOnWall {
  std::size_t wall = 0;  // index
  SeenPlace seen;
};
std::optional<SeenOnWall> seen_place(std::span<const WallRef> walls, const OrbitCamera::Ray& ray);

}  // namespace pontata
