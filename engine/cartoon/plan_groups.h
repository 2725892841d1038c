// How the key plan tells giornate apart: by pontata or by week, each group by its own pattern of lines and its own
// tint, so that it reads without colour.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "engine/cartoon/cartoon.h"
#include "engine/cartoon/page.h"

namespace pontata {

struct PlanGroup {
  std::string words;          // "pontata 2", "week of 2027-05-03", "done"
  double angle_deg = 45;      // of its lines
  double gap_mm = 4;          // between them, mm on a plan of A3
  Colour tint{1, 1, 1};       // light, of the ground
  Colour ink{0.3, 0.3, 0.3};  // dark, of the lines
};

class PlanGroups {
 public:
  // Groups of all walls' giornate. 36 of them differ; more repeat.
  explicit PlanGroups(const CartoonInput& input);
  const PlanGroup& of(const CartoonGiornata& giornata) const { return groups_.at(key(giornata)); }
  // Those that some giornata of the wall belongs to, in order.
  std::vector<const PlanGroup*> on(const CartoonWall& wall) const;
  std::vector<const PlanGroup*> all() const;

 private:
  int key(const CartoonGiornata& giornata) const;
  PlanBy by_;
  std::map<int, PlanGroup> groups_;
};

}  // namespace pontata
