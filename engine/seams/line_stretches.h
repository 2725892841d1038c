// Where a line over the wall runs through which giornata.
#pragma once

#include <vector>

#include "engine/seams/network.h"

namespace pontata {

struct LineStretch {
  GiornataId owner;                  // never the rest
  std::vector<LatticePoint> points;  // from seam to seam; where the line itself begins or ends, from or to there
  LatticePoint inside;               // a place on it that is on no seam
  bool begins_loose = false, ends_loose = false;  // the line's own end lies inside the giornata
  double length = 0;                              // pitches in the chart
};

// The stretches of an open line between the seams it meets, those in the rest and outside the wall left out, in order.
// Expected O(k) for k seams near the line.
std::vector<LineStretch> line_stretches(const Network& network, const std::vector<LatticePoint>& line);

}  // namespace pontata
