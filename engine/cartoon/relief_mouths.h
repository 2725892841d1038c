// Where relief cuts begin on the rim: so that the curvature of the patch is shared out evenly.
//
// By the theorem of Gauss and Bonnet (do Carmo, "Differential Geometry of Curves and Surfaces", 1976, section 4-5) the
// rim of a flat print turns by the integral of Gaussian curvature more than it does on the wall; what the rim may not
// take up, being held to its own turning between junctions, goes into the hinges at junctions, into the mouths of cuts,
// and else into strain. The curvature is the angle that the patch's triangles, by their lengths on the surface, leave
// open round each inner point; each point's goes to the rim place nearest to it.
#pragma once

#include <vector>

#include "engine/cartoon/relief_ground.h"

namespace pontata {

struct RimPosition {
  std::size_t rim = 0, position = 0;
};

class ReliefMouths {
 public:
  // `flat`: the patch without slits, roughly laid flat. O(rim points * inner points).
  ReliefMouths(const Patch& patch, std::span<const Vec2> flat, const std::vector<std::vector<bool>>& junctions,
               const ReliefGround& ground);
  // Mouths of at most `count` cuts, those that part the most curvature first: each stretch of rim between junctions
  // takes the next cut in turn where the curvature left between its cuts is greatest, and its cuts share it evenly.
  // Mouths keep out of keep-whole zones, 80 mm off each other and 40 mm off junctions and corners, where the stretch is
  // long enough.
  std::vector<RimPosition> places(std::size_t count) const;
  double curvature() const { return curvature_; }  // of the whole patch, rad

 private:
  struct Stretch {
    std::size_t rim = 0;
    bool closed = false;                 // the whole rim, without a junction
    std::vector<std::size_t> positions;  // in order
    std::vector<double> before;          // |curvature| from the stretch's beginning, at each of them
    std::vector<bool> allowed;
    std::vector<Vec2> at;  // m on the paper, of each position
    double all = 0;
  };
  void add_stretch(const Patch& patch, std::size_t rim, std::size_t first, std::size_t steps, bool closed,
                   const std::vector<double>& shares);
  static void add_in_stretch(const Stretch& s, std::size_t count, std::vector<RimPosition>& mouths,
                             std::vector<Vec2>& taken);

  std::vector<Stretch> stretches_;
  double curvature_ = 0;
};

}  // namespace pontata
