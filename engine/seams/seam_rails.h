// Seams' ends that slide along a rim which keeps its course: the wall's border, or the rim of a held giornata. On a cut
// of the chart the end that meets them from the other side slides with them. Internal to engine/seams.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/seams/seam_places.h"

namespace pontata {

class Rails {
 public:
  Rails(const ChartedWall& wall, const Network& network, const MoveWords& words)
      : wall_(wall), network_(network), words_(words) {}

  // The seam has the outside or a held giornata on a side.
  bool fixed(SeamId s) const;
  // The one face beside v whose rim keeps its course; kNone: v moves freely. A Problem where there are several, which
  // pin v down.
  Result<FaceId> rail_at(VertexId v) const;
  // Where another seam's end meets v from the other side of a cut of the chart.
  std::optional<VertexId> counterpart(VertexId v) const;

  // The next junctions along the border from a place on it, both ways, no farther than the end of a cut.
  std::vector<VertexId> junctions_beside(const SeamPlace& border) const;

  // v goes to the place of its rail nearest to the target, no farther along than twice their distance unless `any_way`;
  // its counterpart to the same place of the wall. Nothing is done for one that slides already. Precondition:
  // rail_at(v) is a face.
  Outcome slide(VertexId v, FaceId rail, ChartPoint target, bool any_way = false);

  // After the last slide: brings the places onto the lattice and puts the rims into the plan. Refuses where one end
  // would pass another.
  Outcome lay(Recourse& plan);
  // Where v comes to lie. After lay.
  LatticePoint place(VertexId v) const;
  const std::map<VertexId, LatticePoint>& places() const { return places_; }  // of the ends along what was laid

 private:
  struct Spot {
    HalfEdgeId on;     // along the rim, its face K on the right
    double share = 0;  // from its origin
    LatticePoint place;
  };
  struct Slide {
    FaceId rail;
    Spot to;
    std::vector<HalfEdgeId> span;  // half-edges of the rim from before v to after `to`, either way round
  };
  // What lies along a run of the rim: a place that stays, or the end of a seam at where it comes to lie.
  struct Stop {
    double at = 0;                          // along the run, in half-edges
    std::optional<std::size_t> stays, end;  // index along the run of the place, of the end's old place
  };
  class Relaying;

  HalfEdgeId ahead(HalfEdgeId h) const;   // the next along the rim
  HalfEdgeId behind(HalfEdgeId h) const;  // the one before
  HalfEdgeId leaving(VertexId v, FaceId rail) const;
  bool on_cut(HalfEdgeId h) const;
  bool corner(LatticePoint p) const;
  Spot nearest_on(HalfEdgeId h, ChartPoint target) const;
  Slide walk(VertexId v, FaceId rail, ChartPoint target, bool any_way) const;
  Outcome slide_across(VertexId v, const Slide& slide);
  const Slide* slide_of(VertexId v, FaceId rail) const;
  Result<std::vector<Stop>> stops_along(const std::vector<HalfEdgeId>& run, FaceId rail) const;
  std::vector<std::vector<HalfEdgeId>> runs(std::set<HalfEdgeId> all) const;
  Problem passes(LatticePoint p) const;

  const ChartedWall& wall_;
  const Network& network_;
  const MoveWords& words_;
  std::map<VertexId, Slide> slides_;
  std::map<VertexId, LatticePoint> places_;
};

}  // namespace pontata
