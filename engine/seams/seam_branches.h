// Seams that end at a stretch which is drawn anew: cut back to the new line where it meets them, or led on to it.
// Internal to engine/seams.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <vector>

#include "engine/seams/seam_path.h"

namespace pontata {

// A place on a line: piece k and the fraction along it.
struct Along {
  std::size_t piece = 0;
  double share = 0;
  LatticePoint place;
};

double fraction_along(LatticePoint a, LatticePoint b, LatticePoint p);  // 0..1, of the place of ab nearest to p
LatticePoint place_between(LatticePoint a, LatticePoint b, double t);

// Seams from a junction of the old stretch on to the next junction, which may lie on the stretch too.
struct Branch {
  std::vector<HalfEdgeId> half_edges;
  struct Contact {
    std::size_t piece = 0;  // of the branch
    double order = 0;       // along the branch
    Along on;
  };
  std::vector<Contact> contacts;     // with the line, in order along the branch
  std::size_t knot = 0;              // where it begins
  std::optional<std::size_t> other;  // the knot where it ends
  std::optional<Contact> cut, cut_other;
};

// A junction of the old stretch.
struct Knot {
  VertexId vertex;
  double along_old = 0;  // share of the old stretch's length
  std::optional<Along> to;
};

struct Branches {
  std::vector<Knot> knots;  // in the order of the stretch
  std::vector<Branch> branches;
};

// The junctions inside the stretch, the seams that end there and where the line meets them. Refuses a line that meets a
// seam between two of its junctions other than once from each.
Result<Branches> branches_of(const ChartedWall& wall, const Network& network, const LinePart& part,
                             const MoveWords& words);

// Once all knots have their places: lays the branches from there. `place` is where a vertex comes to lie.
void lay_branches(const ChartedWall& wall, const Network& network, const Branches& all,
                  const std::function<LatticePoint(VertexId)>& place, Recourse& plan);

}  // namespace pontata
