// A layout's seams as lines, moved as a whole.
#pragma once

#include <vector>

#include "engine/seams/network.h"

namespace pontata {

using Lines = std::vector<std::vector<ChartPoint>>;

// A line of two points for each seam but those on the wall's border; they may leave the wall.
inline Lines shifted(const Network& n, Vec2 by) {
  Lines lines;
  for (std::uint32_t s = 0; s < n.half_edge_slots() / 2; ++s)
    if (n.alive(SeamId{s}) && !n.on_border({s}))
      lines.push_back(
          {to_chart(to_vec(to_chart(n.origin({s << 1}))) + by), to_chart(to_vec(to_chart(n.target({s << 1}))) + by)});
  return lines;
}

}  // namespace pontata
