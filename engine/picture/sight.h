// What an eye sees of a wall: places turned towards it that nothing stands in front of.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/picture/lay.h"

namespace pontata {

class Sight {
 public:
  // From one place. `wall`: whose places are asked; `others`: further walls that may stand between (the wall itself
  // may, too), from either side.
  Sight(WallRef wall, std::vector<WallRef> others, const Vec3& eye);
  // From far away along a unit direction: only the facing is asked, nothing stands between.
  explicit Sight(const Vec3& along);

  // Whether the eye sees this place of the wall (on its triangles, m) from its painted side; `normal` the smooth unit
  // normal there. One ray a wall.
  //
  // Tolerances: the ray ends kLift above the place along its normal, and what it meets less than kNear before that
  // does not count. So a place is never hidden by its own triangle, nor by its neighbours where the ray grazes a wall
  // built of facets (chords of 0.1 mm) or the roughness of a scan; what hides a place truly stands clear by more than
  // that.
  bool sees(const Vec3& place, const Vec3& normal) const;

  static constexpr double kLift = 2e-4, kScanLift = 2e-3;  // m: on a wall of known shape, on a scan
  static constexpr double kNear = 5e-4;                    // m

 private:
  WallRef wall_;
  std::vector<WallRef> others_;
  Vec3 eye_{0, 0, 0};
  std::optional<Vec3> along_;
  double lift_ = kLift;
};

// The sight a picture is laid by: from the eye of a CameraLay, along a PlaneLay's view; nothing for a lay in the chart,
// which shows everywhere.
std::optional<Sight> sight_of(const Lay& lay, const WallRef& wall, std::span<const WallRef> others);

}  // namespace pontata
