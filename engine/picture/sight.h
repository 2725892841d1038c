// What an eye sees of a wall: places turned towards it that nothing stands in front of.
#pragma once

#include <memory>
#include <span>

#include "engine/chart/charted_wall.h"

namespace pontata {

class Sight {
 public:
  // `wall`: whose places are asked; `others`: further walls that may stand between (the wall itself may, too).
  Sight(WallRef wall, std::vector<WallRef> others, const Vec3& eye);
  // Whether the eye sees this place of the wall from its painted side. One ray a wall: microseconds.
  bool sees(const Vec3& place, const Vec3& normal) const;

 private:
  WallRef wall_;
  std::vector<WallRef> others_;
  Vec3 eye_;
};

}  // namespace pontata
