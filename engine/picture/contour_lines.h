// The contours as lines, for showing them on the wall.
//
// Based on: Steger, "An Unbiased Detector of Curvilinear Structures", 1998, section 3.4 (ridge places joined to the
// next one ahead that lies nearest and turns least); Douglas and Peucker, "Algorithms for the reduction of the number
// of points required to represent a digitized line", 1973.
#pragma once

#include <vector>

#include "engine/picture/contours.h"

namespace pontata {

struct ContourLineOptions {
  double tolerance = 0.0005;  // chart m: how far a line may lie off the sub-pixel ridge places it was joined from
  double least = 0.02;        // chart m: shorter lines are left out
};

// The field's contours as lines of sub-pixel places in the chart, longest first; a closed one ends where it begins.
// Lines meet at forks: the branch ends on a place of the line that it leaves. Every ridge sample is in one line at
// most, so that nothing is drawn twice. Time goes with the number of ridge samples, about 0.3 s for a million; memory
// beside the lines one bit a sample of the grid. The same lines for the same field. Cancelled: no lines.
std::vector<std::vector<ChartPoint>> contour_lines(const ContourField& field, const ContourLineOptions& options = {},
                                                   Progress* progress = nullptr);

}  // namespace pontata
