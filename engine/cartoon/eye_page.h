// Walls as an eye sees them, on a page: the view as a picture, and lines and places of the walls drawn over it where
// they are seen.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "engine/base/progress.h"
#include "engine/cartoon/page.h"
#include "engine/picture/camera.h"
#include "engine/picture/eye_view.h"
#include "engine/picture/sight.h"

namespace pontata {

inline constexpr double kEyeDots = 4;  // of a view's pixels a millimetre

// A box on the page, mm, and the camera whose picture fills it.
struct EyeFrame {
  Camera camera;
  Vec2 corner, size;  // mm
  // Where a place of the building falls on the page; nothing behind the eye. May lie outside the box.
  std::optional<Vec2> operator()(const Vec3& place) const;
  bool holds(Vec2 p) const;
};

// The view of an eye towards `look` for a box of this size, as wide as shows every one of `places` that lies before
// it: 20 to 110 degrees across. A Problem where eye and `look` are one place.
Result<EyeFrame> eye_frame(const Vec3& eye, const Vec3& look, std::span<const Vec3> places, Vec2 corner, Vec2 size);

// The walls with their pictures, at a `strength` of 0 (white) to 1. A Problem where the eye sees nothing of any wall.
Outcome draw_eye_ground(Pages& pages, std::span<const SeenWall> walls, const EyeFrame& frame, double strength,
                        Progress* progress);

// Draws what lies on one wall. Keeps references to pages and frame.
class EyeDrawer {
 public:
  EyeDrawer(Pages& pages, const EyeFrame& frame, const WallRef& wall, const std::vector<WallRef>& others)
      : pages_(pages), frame_(frame), wall_(wall), sight_(wall, others, frame.camera.eye) {}

  // Where a chart place is on the page, when the eye sees it.
  std::optional<Vec2> seen(ChartPoint place) const;
  // A straight line in the chart, looked at every `step` chart metres and parted where it is hidden; goes on from
  // `open`. flush() draws what is left there.
  void line(Vec2 a, Vec2 b, double step, std::vector<Vec2>& open, const Stroke& stroke) const;
  void flush(std::vector<Vec2>& open, const Stroke& stroke) const;
  void course(std::span<const ChartPoint> line, const Stroke& stroke) const;
  void ring(const Ring& ring, const Stroke& stroke) const;

 private:
  Pages& pages_;
  const EyeFrame& frame_;
  WallRef wall_;
  Sight sight_;
};

}  // namespace pontata
