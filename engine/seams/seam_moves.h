// Seams led along other courses. What meets what stays as it is: the same giornate on both sides, the same junctions in
// the same order; a move that would change that (a seam over another seam, an island left outside its giornata) is
// refused with the place. So every giornata keeps its identity.
//
// Lengths are surface metres by the wall's metric. Seams of the wall's border keep their course: a junction on the
// border slides along it. Each function: O(k log n) for k seams moved, plus the rims of the faces they bound.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/seams/network.h"
#include "engine/seams/seam_hold.h"
#include "engine/seams/seam_names.h"

namespace pontata {

struct MovedSeams {
  Network network;
  std::vector<GiornataId> touched;  // giornate whose rim moved, rising
  double most_m = 0;                // farthest that a place of a seam moved
  std::vector<ChartPoint> course;   // of the stretch as it lies now, for showing
};

// A seam nearer than this is what a typed or clicked place means.
inline constexpr double kSeamNear = 0.01;  // m

// Drags the seam at `from` (the nearest place of a seam within kSeamNear) by `by` (chart metres). Places up to
// `reach_m` along the seams from there follow by a share that falls smoothly from 1 to 0 (cos^2); over a junction the
// move goes on into every seam that meets there. Seams gain nodes where they must bend, none farther apart than reach_m
// / 12 in the moved stretch nor closer than 2 mm. A junction of the border within reach slides along the border by its
// share. Refuses: no seam there, nothing to move (the border itself), a reach or move that is not finite or reach_m
// below 1 mm, a held giornata (SeamHold), and what the head of this file says.
Result<MovedSeams> nudge_seam(const ChartedWall& wall, const Network& network, ChartPoint from, Vec2 by, double reach_m,
                              const SeamHold& hold = {}, const SeamNames& names = {});

// Puts the line in place of the stretch of seam between the line's two ends, which lie on seams of one giornata or of
// two neighbours (within kSeamNear; they are brought onto the seam). Of the two ways round the giornata the one nearer
// to the line counts. Junctions on the stretch move to their nearest places along the line, in their order, and the
// seams that meet there are led on or cut back to it. Refuses also a line that crosses itself.
Result<MovedSeams> redraw_seam(const ChartedWall& wall, const Network& network, const std::vector<ChartPoint>& line,
                               const SeamHold& hold = {}, const SeamNames& names = {});

// The network without the stretch that redraw_seam would take away for this line, the giornate beside it made one: what
// a line that is to hug contours near its old course looks at. Seams that ended there end loosely.
Result<Network> without_stretch(const ChartedWall& wall, const Network& network, const std::vector<ChartPoint>& line);

// A node is a vertex of the network where a seam bends or seams meet.
// The nearest node within `reach_m` surface metres; nullopt where there is none.
std::optional<VertexId> node_near(const ChartedWall& wall, const Network& network, ChartPoint p, double reach_m);
// Moves the node nearest to `at` (within kSeamNear). A node where a seam meets the border slides along the border to
// the place nearest to `to`; where it lies on a cut of the chart its counterpart on the other side slides with it.
Result<MovedSeams> move_node(const ChartedWall& wall, const Network& network, ChartPoint at, ChartPoint to,
                             const SeamHold& hold = {}, const SeamNames& names = {});
// Adds a node on the seam nearest to `at`, where the seam bends by a pitch at most.
Result<MovedSeams> add_node(const ChartedWall& wall, const Network& network, ChartPoint at, const SeamHold& hold = {},
                            const SeamNames& names = {});
// Takes a node away; the seam runs straight between its neighbours. Refuses junctions and corners of the border.
Result<MovedSeams> remove_node(const ChartedWall& wall, const Network& network, ChartPoint at,
                               const SeamHold& hold = {}, const SeamNames& names = {});

}  // namespace pontata
