// Lines drawn over a wall that closes round itself: cut up where they cross the cut, and closed along it.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "engine/chart/charted_wall.h"

namespace pontata {

// Chart places as they may be drawn: where the two sides of a cut differ by a shift alone (drum, annular vault), a
// place beyond the cut is the place one turn back.
struct WrappedPlaces {
  std::vector<ChartPoint> places;    // brought back where that lies nearer to the wall
  std::vector<LatticePoint> turned;  // per place the shift in pitches that brought it back; (0, 0): drawn as it is
};
WrappedPlaces wrap_places(const Chart& chart, std::span<const ChartPoint> places);

// A part of a line between two crossings of the cut. Its first and last point there are the crossing as seen from this
// part's side of the cut.
struct CutPiece {
  std::vector<LatticePoint> points;
  std::optional<Chart::BorderPlace> begins, ends;  // on the cut; none where the line itself begins or ends
};

// The line through places of the wall, in order. From one place to the next the way is straight in the chart, direct
// or across one cut, whichever is shorter on the surface; the crossing is where the way is straight when the chart is
// laid on across the cut, or, where no motion does that, where the way is shortest. Between places that were `turned`
// differently, and from or to a turned one, the way is the one drawn. A closed line that crosses no cut is one piece
// without ends; one that does begins after a crossing. Neighbouring points of a piece differ. Refuses a way that goes
// round the wall more than once. Precondition: as many turns as places, or none at all.
Result<std::vector<CutPiece>> lead_across(const ChartedWall& wall, std::span<const LatticePoint> places,
                                          std::span<const LatticePoint> turned, bool closed);

// Rings round what a closed line encloses: its pieces, joined along the stretches of cut that lie inside. Stretches
// alternate between inside and outside at the crossings, and where the wall really ends is outside. A line that crosses
// no cut gives its own ring. Refuses a line that goes all the way round the wall, with what to do.
Result<std::vector<Ring>> close_along_cuts(const Chart& chart, std::span<const CutPiece> pieces);

// The corners of the closed line that close_along_cuts made these rings (counter-clockwise) of, without its crossings;
// they begin anywhere. A single ring gives its own. nullopt where the rings do not join along cuts into one line. O(n
// k) for n corners in k rings.
std::optional<std::vector<LatticePoint>> opened_along_cuts(const Chart& chart, std::span<const Ring> rings);

// Two places of a line that are one place of the wall, as the two sides of a cut have it.
bool is_cut_step(const ChartedWall& wall, ChartPoint a, ChartPoint b);

// Length on the surface of a line's pieces, m.
double length_of(const ChartedWall& wall, std::span<const CutPiece> pieces, bool closed);

}  // namespace pontata
