// What a hugging line shares or runs along exactly: existing seams, the wall's edge and the edges of openings, or the
// wall's ribs. The nearest place on one of them, and the way along them.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/chart/ribs.h"
#include "engine/seams/hug.h"
#include "engine/seams/network.h"

namespace pontata {

// A place on a seam or rib: one of its ends where one is within half a millimetre, else the lattice point nearest to
// its line.
struct SeamSpot {
  std::uint32_t piece = 0;  // number of a piece
  double share = 0;         // of the piece's length from its first end to the place
  ChartPoint place;         // converts to a lattice point and back without change
  Vec2 along{0, 0};         // chart direction of the piece
  double distance_m = 0;    // surface metres from the place asked for
};

struct SeamRoute {
  std::vector<ChartPoint> points;  // from place to place, every end between them exactly
  double length_m = 0;
};

// A straight piece between two ends, and what it is.
struct SeamPiece {
  LatticePoint a, b;
  std::uint32_t from = 0, to = 0;  // numbers of the ends
  double length_m = 0;
  HugTarget what = HugTarget::seam;
  GiornataId one, other;  // of a seam, the smaller first
};

class HugSeams {
 public:
  // The wall must outlive this; the network and the ribs are not kept. O(n log n).
  HugSeams(const ChartedWall& wall, const Network& network);
  HugSeams(const ChartedWall& wall, const WallRibs& ribs);

  bool empty() const { return pieces_.empty(); }
  const SeamPiece& piece(const SeamSpot& spot) const { return pieces_[spot.piece]; }
  // Nearest place within `reach_m` surface metres of p (by the metric at p).
  std::optional<SeamSpot> nearest(Vec2 p, double reach_m) const;
  // Shortest way along the pieces, at most `most_m` long, over ends that `admit` allows; nullopt when there is none.
  std::optional<SeamRoute> route(const SeamSpot& from, const SeamSpot& to, double most_m,
                                 const std::function<bool(Vec2)>& admit) const;

 private:
  void take_border(const Network& network);
  void take_inner(const Network& network);
  void finish(std::size_t ends);
  void index(std::uint32_t piece);
  Vec2 end(std::uint32_t piece, int which) const {
    return to_vec(to_chart(which == 0 ? pieces_[piece].a : pieces_[piece].b));
  }

  const ChartedWall* wall_;
  std::vector<SeamPiece> pieces_;
  std::vector<std::uint32_t> first_, beside_;  // pieces at end e: beside_[first_[e]] up to beside_[first_[e + 1]]
  // Uniform grid over the pieces' box; each cell lists those that may pass it.
  Vec2 low_{0, 0};
  double cell_ = 1;
  int columns_ = 0, rows_ = 0;
  std::vector<std::vector<std::uint32_t>> cells_;
};

}  // namespace pontata
