// Places along the seams of a wall that carry a number, the same on both prints of a seam.
//
// Numbers follow from the network alone: seams between two giornate, from junction to junction, in order from the top
// of the chart down; along each a mark near either end and at most kMarkEvery apart between. So one giornata printed by
// itself bears the numbers that its neighbours bear.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "engine/cartoon/cartoon.h"

namespace pontata {

inline constexpr double kMarkEvery = 0.2;     // m along the seam
inline constexpr double kMarkFromEnd = 0.03;  // m; a seam shorter than three times this has one in its middle

class SeamMarks {
 public:
  // A wall without a network has none. O(seams + border edges).
  explicit SeamMarks(const CartoonWall& wall);
  struct Mark {
    double share = 0;  // of the half-edge, from its origin
    int number = 0;
  };
  // Of a half-edge, along it.
  const std::vector<Mark>& on(HalfEdgeId h) const;
  int count() const { return count_; }

 private:
  std::map<HalfEdgeId, std::vector<Mark>> marks_;
  int count_ = 0;
};

}  // namespace pontata
