// Lines drawn beside existing seams, brought on to them, so that neighbours share their seam and no sliver is left.
#pragma once

#include <vector>

#include "engine/seams/network.h"

namespace pontata {

// Brings a line on to what lies within `reach` pitches of it in the chart: each of its points to the nearest vertex of
// the network, else to the nearest place on a seam; and the line between its points through every vertex of the network
// it passes that near. What runs back on itself by that is left out. Where the line already lies on seams and vertices
// it stays. A closed line joins its last point to its first. O(k log k) for k seams near the line.
std::vector<LatticePoint> snap_to_seams(const Network& network, const std::vector<LatticePoint>& line, bool closed,
                                        double reach);

// A closed line that passes places twice as loops that do not, in the order they close; loops of two points are left
// out. O(n).
std::vector<Ring> loops_of(const Ring& ring);

}  // namespace pontata
