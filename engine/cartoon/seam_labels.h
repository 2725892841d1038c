// Words along the rim of a pattern: the neighbours' numbers outside, what the edge meets inside.
#pragma once

#include <string>
#include <vector>

#include "engine/cartoon/page_room.h"
#include "engine/cartoon/pattern.h"

namespace pontata {

struct SeamLabel {
  std::string words;
  Vec2 centre{0, 0};     // mm on the pattern
  double angle_deg = 0;  // along the rim, or 0 for a number
  double size_mm = 3;
  bool bold = false;
  bool outside = false;  // beyond the rim
  double along_deg = 0;  // upright along the rim there
};

// A number about every 200 mm of each stretch, at least one on stretches longer than 12 mm, none upon another nor on
// what stands in `room`, which takes them in. `turn_deg`: how far the pattern is turned on the paper, so that words
// along the rim are not upside down there.
std::vector<SeamLabel> seam_labels(const Pattern& pattern, PageRoom& room, double turn_deg);

}  // namespace pontata
