// What a drag of a seam would take along, for showing it before it is made.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/seams/network.h"
#include "engine/seams/seam_hold.h"

namespace pontata {

struct SeamFollow {
  ChartPoint from;    // the place of the seam that is taken hold of
  bool node = false;  // which is a node
  struct Piece {
    ChartPoint from, to;
    double share = 0;  // of the drag that it follows by, about; 0..1
  };
  std::vector<Piece> pieces;      // of what nudge_seam (seam_moves.h) would move from there with this reach
  std::vector<ChartPoint> nodes;  // within reach
};

struct FollowReach {
  double near_m = 0.01;   // a seam nearer than this is meant
  double node_m = 0.005;  // and so is a node, before the seam
  double drag_m = 0.2;    // reach of the drag along the seams
};

// The seam nearest to p, without the wall's border; nullopt where there is none. Lengths are surface metres. A held
// giornata's seam is found, with no piece that follows. O(k log k) for k seams within reach. Precondition: p is finite.
std::optional<SeamFollow> seam_follow(const ChartedWall& wall, const Network& network, ChartPoint p,
                                      const FollowReach& reach, const SeamHold& hold = {});

// The nearest place of a seam or of the wall's border within reach_m surface metres of p: where a line that is to end
// on a rim ends. nullopt where there is none. O(seams near p).
std::optional<ChartPoint> rim_near(const ChartedWall& wall, const Network& network, ChartPoint p, double reach_m);

// The seams that an edit laid where none ran before, each a line of two places, in no order: what a drag would change,
// for showing. O(seams).
std::vector<std::vector<ChartPoint>> seams_laid(const Network& before, const Network& after);

// The network without the seam near p (kSeamNear of seam_moves.h), from the junction before it to the one behind it:
// what a line that is to take its place may hug. Refuses where there is none.
Result<Network> without_seam(const ChartedWall& wall, const Network& network, ChartPoint p);

}  // namespace pontata
