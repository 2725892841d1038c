// Triangles of a chart are thick enough to be told from their mirror image whatever is drawn on them.
#pragma once

#include <algorithm>

#include "engine/base/predicates.h"

namespace pontata {

// Least altitude of triangle a b c, whose area is half of `area2` (not negative), is 16 pitches or more. Exact: twice
// the area against the longest side, area2^2 >= 256 side^2.
inline bool thick(Int128 area2, LatticePoint a, LatticePoint b, LatticePoint c) {
  const auto square = [](LatticePoint p, LatticePoint q) {
    return static_cast<Int128>(q.x - p.x) * (q.x - p.x) + static_cast<Int128>(q.y - p.y) * (q.y - p.y);
  };
  const Int128 longest = std::max({square(a, b), square(b, c), square(c, a)});  // below 2^83
  const Int128 plenty = static_cast<Int128>(1) << 46;                           // 256 * 2^83 < 2^92
  return area2 >= plenty || area2 * area2 >= 256 * longest;
}

}  // namespace pontata
