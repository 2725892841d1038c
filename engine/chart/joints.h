// Edges at which two triangles of a wall meet, across its cuts too.
#pragma once

#include "engine/chart/chart.h"

namespace pontata {

struct EdgeSide {
  std::uint32_t triangle;
  std::size_t edge;  // corner `edge` to the next
};

// Calls each(one, other) for every such edge from either of its sides, triangles in order, then cuts. O(triangles).
template <class Each>
void each_joint(const Chart& chart, const Each& each) {
  for (std::uint32_t t = 0; t < chart.mesh().triangles.size(); ++t)
    for (std::size_t k = 0; k < 3; ++k) {
      const auto other = chart.across(t, static_cast<int>(k));
      if (other == Chart::kNoTriangle) continue;
      for (std::size_t j = 0; j < 3; ++j)
        if (chart.across(other, static_cast<int>(j)) == t) each(EdgeSide{t, k}, EdgeSide{other, j});
    }
  for (std::uint32_t e = 0; chart.has_cuts() && e < chart.border_edges().size(); ++e)
    if (const auto other = chart.across_cut(e); other != Chart::kNoTriangle) {
      const auto &a = chart.border_edges()[e], &b = chart.border_edges()[other];
      each(EdgeSide{a.triangle, static_cast<std::size_t>(a.side)},
           EdgeSide{b.triangle, static_cast<std::size_t>(b.side)});
    }
}

}  // namespace pontata
