// Relief cuts: where a curved giornata has to be slit so that its pattern lies true.
//
// A pattern's rim is held to its seams' developments (engine/flatten/development.h): lengths along seams, and what two
// prints of one seam make of it, are then true whatever the inside does. What is left is the inside: straight lines on
// the paper (Flattening::worst_pair_mm) are to be true to the tolerance as well. Cuts begin where they share the
// curvature out evenly (engine/cartoon/relief_mouths.h) and lead inward, clear of keep-whole zones and of each other,
// along contours where that is no detour (engine/cartoon/relief_ground.h). The plan takes the fewest cuts that do,
// then the shortest. Where the paper must close over a saddle its lips would overlap: such a slit is left out of the
// paper by what overlaps, and stands open on the wall.
//
// Not more than 8 cuts a m² are made (4 for a small giornata), for a sheet cut oftener cannot be handled: on a ball of
// 2 m radius that is what lines true to 1.5 mm take. Where they would take more, seams are still true, and the plan is
// the one with the fewest cuts whose lines are at most a tenth worse than the best. Only where seams would not be true
// with so many are more made.
#pragma once

#include <map>
#include <memory>
#include <vector>

#include "engine/cartoon/seam_marks.h"
#include "engine/flatten/patch.h"

namespace pontata {

// The cuts of one giornata, per part (engine/flatten/patch.h, patch_parts).
struct ReliefPlan {
  std::vector<std::vector<Slit>> parts;
};

// What the patterns of one wall share; each made once, when it is first asked for, from the wall alone: the same in
// whatever order patterns are made. Not for several threads at once.
class WallPlans {
 public:
  // `wall` must outlive this.
  WallPlans(const CartoonWall& wall, double relief_mm) : wall_(wall), relief_mm_(relief_mm) {}
  const SeamMarks& marks();
  // Empty for a giornata that cannot be planned (its own pattern says why) or is not on the wall.
  const ReliefPlan& plan(GiornataId id, Progress* progress);
  double relief_mm() const { return relief_mm_; }

 private:
  const CartoonWall& wall_;
  double relief_mm_;
  std::unique_ptr<SeamMarks> marks_;
  std::map<GiornataId, ReliefPlan> plans_;
};

// Plans the cuts of one giornata.
ReliefPlan plan_relief(const CartoonWall& wall, const CartoonGiornata& giornata, double relief_mm, Progress* progress);

}  // namespace pontata
