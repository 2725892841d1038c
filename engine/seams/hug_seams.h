// Existing seams and the wall's border as a hugging line sees them: the nearest place on one, and the way along them.
#pragma once

#include <functional>
#include <optional>
#include <set>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/seams/network.h"

namespace pontata {

// A place on a seam: a vertex of the network where one is within half a millimetre, else the lattice point nearest to
// the seam's line.
struct SeamSpot {
  SeamId seam{kNone};
  double share = 0;       // of the seam's length from its first end (of half-edge 2k) to the place
  ChartPoint place;       // converts to a lattice point and back without change
  Vec2 along{0, 0};       // chart direction of the seam
  double distance_m = 0;  // surface metres from the place asked for
};

struct SeamRoute {
  std::vector<ChartPoint> points;  // from place to place, every network vertex between them exactly
  double length_m = 0;
};

class HugSeams {
 public:
  // Both must outlive this. O(seams).
  HugSeams(const ChartedWall& wall, const Network& network);

  bool empty() const { return seams_.empty(); }
  // Nearest place within `reach_m` surface metres of p (by the metric at p).
  std::optional<SeamSpot> nearest(Vec2 p, double reach_m) const;
  // Shortest way along seams, at most `most_m` long, over vertices that `admit` allows; nullopt when there is none.
  std::optional<SeamRoute> route(const SeamSpot& from, const SeamSpot& to, double most_m,
                                 const std::function<bool(Vec2)>& admit) const;

 private:
  void find_plain();
  void index(SeamId s);
  Vec2 end(SeamId s, int which) const;

  const ChartedWall* wall_;
  const Network* network_;
  std::set<SeamId> plain_;  // border seams along cuts with the same on both sides: nothing to follow
  std::vector<SeamId> seams_;
  // Uniform grid over the seams' box; each cell lists the seams whose line may pass it.
  Vec2 low_{0, 0};
  double cell_ = 1;
  int columns_ = 0, rows_ = 0;
  std::vector<std::vector<SeamId>> cells_;
};

}  // namespace pontata
