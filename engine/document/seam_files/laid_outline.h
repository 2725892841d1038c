// A drawn path as rings on the wall's lattice. Internal to engine/document/seam_files.
#pragma once

#include <memory>
#include <vector>

#include "engine/document/document.h"
#include "engine/document/seam_files/drawing.h"
#include "engine/seams/hug.h"

namespace pontata {

struct LaidOutline {
  std::vector<Ring> parts;  // counter-clockwise
  std::vector<Ring> holes;  // counter-clockwise
};

struct LayingGround {
  const WallItem* item = nullptr;
  const Network* network = nullptr;           // as it is now
  double reach = 0;                           // pitches: nearer than this lines are brought on to seams; 0: never
  bool exact = false;                         // places are the lattice's own and stay
  std::shared_ptr<const HugGround> contours;  // hugged to, with `network`; null: joined straight
};

// The closed lines of a path: brought on to the wall (at most 5 mm outside), hugged where asked, brought on to seams
// within reach; what of them is inside and what is a hole told by the path's rule. Lines are led as they are drawn in
// the chart; only one that leaves it over a cut is led across. Refuses places farther outside, and paths that enclose
// nothing.
Result<LaidOutline> lay_outline(const LayingGround& ground, const DrawnPath& path, const HugOptions& hug,
                                Progress* progress);

// The rings of the closed lines as they stand in the file; nullopt where a place lies kilometres away.
std::optional<std::vector<Ring>> rings_as_drawn(const DrawnPath& path);

// An open line on the lattice, brought on to seams within reach.
Result<std::vector<LatticePoint>> place_line(const LayingGround& ground, const DrawnLine& line);

}  // namespace pontata
