// How long a noisy scan's border really is.
#pragma once

#include <vector>

#include "engine/chart/chart.h"

namespace pontata {

// m along each border edge (in the order of Chart::border_edges): the edge seen along the border's own direction, which
// is that of the least-squares line through the border's points within 45 mm on either side. A scanner's noise sets the
// points of a border to and fro, so that its edges together are longer than the border (by the square of noise over
// edge: 1 % for 1 mm on 10 mm). The line stops at corners, where the border turns by more than 30 degrees between its
// 45 mm before and after, and has four points or more; where there are fewer, the edge counts as it is. O(border
// edges).
std::vector<double> fair_border_lengths(const Chart& chart);

}  // namespace pontata
