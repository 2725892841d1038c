// Where the border of one wall runs along that of another: the springing under a vault, a lunette against its web.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/seams/network.h"

namespace pontata {

// Borders of two walls count as one edge where they run within this of each other in space.
inline constexpr double kMeetReach = 0.010;  // m

// A stretch of one wall's border that runs along another wall.
struct BorderMeeting {
  std::uint32_t edge = 0;   // border edge of the chart of the first wall
  double from = 0, to = 1;  // fractions along it
  std::uint32_t other_edge = 0;
  double other_from = 0, other_to = 1;  // fractions along that, at `from` and `to`
};
// Border stretches of `wall` that run along the border of `other`, in the order of the border, none twice. Edges that
// meet at more than 45 degrees cross and do not run along each other; runs shorter than 2.5 reaches are corners and are
// left out. The edges of a cut that opens a wall which closes round itself are no border. Expected O(n) by a grid.
std::vector<BorderMeeting> border_meetings(const ChartedWall& wall, const ChartedWall& other,
                                           double reach_m = kMeetReach);

// What a giornata meets beyond its own wall.
struct MeetsWall {
  GiornataId giornata;   // of the first wall; none: what no giornata covers there
  std::size_t wall = 0;  // index of the other wall
  GiornataId other;      // giornata met there; none: the rest of that wall
  double length_m = 0;   // of the common edge, on the first wall
};
struct WallBorder {
  const ChartedWall* wall = nullptr;
  const Network* network = nullptr;
};
// For every wall what its giornate meet on the others, by giornata, then wall. Same order as `walls`.
std::vector<std::vector<MeetsWall>> walls_met(std::span<const WallBorder> walls, double reach_m = kMeetReach);

// One other wall met: the whole length, and the giornate met there, by id.
struct WallMet {
  std::size_t wall = 0;
  double length_m = 0;
  std::vector<GiornataId> giornate;
};
// What one giornata meets of what its wall does (a list of walls_met), or with no `giornata` the whole wall; by wall.
std::vector<WallMet> met_by_wall(std::span<const MeetsWall> met, std::optional<GiornataId> giornata);

// "meets wall apse here: 1.20 m (giornata 7)"; the labels may be none.
std::string meeting_words(const std::string& wall, double length_m, std::vector<std::string> labels);

}  // namespace pontata
