// Snap rounding of a new line against the network: afterwards lines and seams meet only at lattice points that are
// vertices of both. Internal to engine/seams.
//
// Based on: Hobby, "Practical segment intersection with finite precision output", 1999 (segments through the unit
// square of a vertex or crossing are led through its centre), repeated until nothing changes (Halperin and Packer,
// "Iterated snap rounding", 2002), so that afterwards no seam near the line passes closer than half a pitch to a vertex
// of another.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "engine/base/crossing.h"
#include "engine/seams/network.h"

namespace pontata {

// Segment ab passes the half-open unit square [x-1/2, x+1/2) x [y-1/2, y+1/2) about p. Exact. Precondition: a != b.
bool passes_pixel(LatticePoint a, LatticePoint b, LatticePoint p);

// The lattice point within two pitches of p each way, itself passed by seam ab, that lies nearest to ab's line; no end
// of ab.
LatticePoint on_seam(LatticePoint a, LatticePoint b, LatticePoint p);

// Where the open line first touches itself, neighbouring stretches at their common point left out.
std::optional<LatticePoint> line_crossing(const std::vector<LatticePoint>& line);

struct SnappedLine {
  std::vector<LatticePoint> line;                       // the line led through every vertex it passes
  std::map<SeamId, std::vector<LatticePoint>> courses;  // seams that gained vertices, from half-edge 2k's origin
};

// A closed line joins its last point to its first. Both ends of an open line are kept. nullopt when it does not come to
// rest (not seen outside contrived input).
std::optional<SnappedLine> snap_line(const Network& network, std::vector<LatticePoint> line, bool closed);

}  // namespace pontata
