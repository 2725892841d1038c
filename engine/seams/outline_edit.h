// Edits of the network. Each is a function from network to network, validated or refused with a reason.
//
// New seams are snap-rounded (Hobby, "Practical segment intersection with finite precision output", 1999): crossings
// move to the nearest lattice point, and seams passing through the unit square of a vertex are led through it. So
// existing seams gain vertices, move by no more than one pitch (3.7 nm; up to three where vertices crowd within a few
// pitches) and lose tips thinner than a pitch. A crossing with an existing seam takes the lattice point nearest that
// seam's line among those near the crossing, so the old seam's area hardly changes; for that the new line itself may be
// bent by up to three pitches.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/chart/cut_crossing.h"
#include "engine/seams/network.h"

namespace pontata {

inline constexpr double kLeastPiece = 1e-4;  // m^2: outlines and pieces below 1 cm^2 are refused or left to the rest

// m: rest left between a new giornata and its neighbours by rounding alone, thinner than this on the whole (area over
// perimeter), goes to the new giornata; anything wider stays rest.
inline constexpr double kSliverWidth = 1e-8;

struct OutlineResult {
  Network network;
  double area_m2 = 0;  // of the new giornata
  struct Dropped {
    double area_m2 = 0;
    ChartPoint at;  // a place inside
  };
  std::vector<Dropped> dropped;   // pieces cut off by earlier giornate, left unassigned
  bool overlap_given_up = false;  // part of the outline lay on giornate drawn earlier
};

// Makes a giornata of what the closed outline covers and no earlier giornata owns; if that falls into pieces the
// largest is kept. The outline may run either way round; points outside the wall must already have been brought to the
// border (bring_to_border). Refuses: fewer than 3 points, an outline crossing itself (with the place), under 1 cm^2
// left. Precondition: the id is not none and not in use. Expected O(k log n) for k crossed seams plus the rims of the
// faces it touches.
Result<OutlineResult> insert_outline(const Network& network, const Ring& outline, GiornataId id,
                                     const EdgeMeter& meter);

// The same for an outline that crosses cuts of the chart: one ring for each part of it, all made one giornata. Pieces
// that touch across a cut count as one piece; a chart without cuts, or none, joins nothing. Refuses rings that meet.
Result<OutlineResult> insert_outlines(const Network& network, std::span<const Ring> outlines, GiornataId id,
                                      const EdgeMeter& meter, const Chart* chart = nullptr);

// Gives the face(s) of a giornata back to the rest and removes seams with rest on both sides.
Result<Network> remove_giornata(const Network& network, GiornataId id, const EdgeMeter& meter);

// Ends of a dividing line inside the giornata are led on to its rim when that is this near (3.9 mm of chart).
inline constexpr std::int64_t kDivideReach = std::int64_t{1} << 20;

// A seam across a giornata from rim to rim: ends inside it within kDivideReach of its rim are led on to the rim, what
// lies outside it is left out, so a line over an island or opening goes from the rim to the island and on from there.
// Where the stretches together make more than two parts, the fewest that follow each other round the longest count. The
// larger part keeps the id, the other gets `id_new` (precondition: not none, not in use). Refuses lines that cross
// themselves, end inside or do not part it, and parts under 1 cm^2.
Result<Network> divide_giornata(const Network& network, GiornataId id, const std::vector<LatticePoint>& line,
                                GiornataId id_new, const EdgeMeter& meter);
// The same for a line in pieces (engine/chart/cut_crossing.h), each leaving the chart over a cut where the next comes
// in. Parts that touch across a cut are one part.
Result<Network> divide_giornata(const Network& network, GiornataId id, std::span<const CutPiece> line,
                                GiornataId id_new, const EdgeMeter& meter, const Chart* chart);

// Makes one giornata of two that share a seam, or a stretch of a cut of the chart; `keep` stays.
Result<Network> join_giornate(const Network& network, GiornataId keep, GiornataId other, const EdgeMeter& meter,
                              const Chart* chart = nullptr);

// Brings outline points up to `reach_m` surface metres outside the wall to its border; farther ones, and points that
// are not finite, are a Problem with the place.
Result<Ring> bring_to_border(const ChartedWall& wall, const std::vector<ChartPoint>& outline, double reach_m = 0.005);

// Length of positive shared seam between giornate (or the rest, id none), per pair, m; seams along a cut of the chart,
// which two sides of the border share, count once.
struct SharedSeam {
  GiornataId a, b;
  double length_m = 0;
};
std::vector<SharedSeam> shared_seams(const Network& network, const Chart* chart = nullptr);

}  // namespace pontata
