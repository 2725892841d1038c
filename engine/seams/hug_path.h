// The line while it is made: dense points, and what each piece of it follows.
#pragma once

#include <span>
#include <vector>

#include "engine/seams/hug.h"
#include "engine/seams/hug_cost.h"
#include "engine/seams/hug_seams.h"

namespace pontata {

// `seam`: along the network, whose vertices it repeats exactly; which of its targets is told of the finished line.
enum class HugKind : std::uint8_t { free, contour, seam, rib };

struct HugPath {
  std::vector<Vec2> at;            // chart metres
  std::vector<HugKind> kind;       // kind[k] of the piece from at[k] to at[k + 1]
  void add(Vec2 p, HugKind with);  // joins p on by a piece of that kind; skips a repeated point
};

// The path of cells as a line between the two exact ends: on contours the sub-pixel ridge, smoothed along itself but
// not round corners; elsewhere straight. Where an end lies beside its contour the line leaves it as far from the foot
// point as the end is off it, so that two strokes meeting there do not run over each other.
HugPath follow_ridges(HugCost& cost, std::span<const HugCell> cells, Vec2 from, Vec2 to);

// Stretches of the path that run alongside a seam within `seam_reach_m` give way to the seam itself; they become of the
// kind `as`. Pieces that are of kind seam already stay as they are.
HugPath attach_to_seams(const ChartedWall& wall, const HugSeams& seams, const HugPath& path, double cell,
                        double seam_reach_m, HugKind as = HugKind::seam);

// Fewer points, none of those left out farther than `tolerance_m` surface metres from the line. Pieces on seams stay as
// they are, and so do the points `kept` and those where one kind ends and another begins. Based on: Douglas and
// Peucker, "Algorithms for the reduction of the number of points required to represent a digitized line or its
// caricature", 1973.
HugPath simplify(const ChartedWall& wall, const HugPath& path, double tolerance_m, std::span<const Vec2> kept);

// The finished line with lengths measured on the surface and what it follows; `network`: whose seams it repeats.
HuggedLine measured(const ChartedWall& wall, const HugSeams& network, const HugPath& path);

// Every point of either line lies within `tolerance_m` (chart metres) of the other. O(points of both, multiplied).
bool one_to_the_eye(const HuggedLine& a, const HuggedLine& b, double tolerance_m);

// The line with given points that lie on it put back as they were given: the lattice moved them by up to half a pitch.
HuggedLine with_given(HuggedLine line, std::span<const ChartPoint> given);

}  // namespace pontata
