// What is true of each giornata on the real surface.
#pragma once

#include <limits>
#include <span>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/giornate/giornata.h"
#include "engine/seams/network.h"

namespace pontata {

// Surface that faces down and lies within 30° of level (sine of the angle): water may drop off it instead of running.
inline constexpr double kDropsBelow = 0.5;

struct GiornataMeasure {
  GiornataId id;
  double area_m2 = 0;                  // exact sum of the network's integers
  double chart_area_m2 = 0;            // the address's area; reported for curiosity, used for nothing
  double perimeter_m = 0;              // a cut of the chart inside the giornata is no rim
  double bend_m = 0, gauss = 0;        // offset terms, see engine/chart/metric.h
  std::vector<GiornataId> neighbours;  // share positive length, across a cut of the chart too
  // Neighbours that get more water over the common seam than they send back, and how much more: metres of seam across
  // the fall of the surface. By id.
  struct RunsOnto {
    GiornataId id;
    double width_m = 0;
    double crown_m = 0;  // of it, where the surface drops (below): nobody can say which way a drop goes there
  };
  std::vector<RunsOnto> runs_onto;
  ChartPoint inside;                   // a place well inside its largest face, for the label
  double highest_m = 0, lowest_m = 0;  // height above the building's zero over its rim and inside
  double inside_m = 0;                 // height of the label place: which deck it is worked from
  // Least radius in m of the hollows (surface curving toward the painter); infinity where there is none. Principal
  // curvatures from each triangle's offset terms: H = -a1/(2 a0), K = a2/a0, k = H +- sqrt(H^2 - K). Hollows that
  // together hold less than 1 cm^2 are left out: no trowel feels them, and a scan always has some.
  double least_concave_radius_m = std::numeric_limits<double>::infinity();
};

struct WallMeasure {
  double area_m2 = 0, raw_area_m2 = 0, unassigned_m2 = 0;
  double residual_m2 = 0;                 // giornate + unassigned - wall, from integers: 0 when sound
  std::vector<GiornataMeasure> giornate;  // by id
};

// O(seams + triangles). `giornate` of other walls, and those without a face here, are left out.
WallMeasure measure_wall(const ChartedWall& wall, const Network& network, std::span<const Giornata> giornate);

// The same area found another way: every surface triangle clipped by the face's rings in the chart and its share of the
// triangle's area added. Independent of the network's sums; for checks. O(triangles x rim / grid).
double area_by_clipping(const ChartedWall& wall, std::span<const Ring> rings);
// The same for area and both offset terms: a0, a1, a2 of engine/chart/metric.h.
Vec3 terms_by_clipping(const ChartedWall& wall, std::span<const Ring> rings);

// How far the sum of a face's integers (Network::sums) may be from area_by_clipping of its rings, m^2. Both see one rim
// with the same lattice places for ends, so only arithmetic parts them: half a unit for the integer of each seam (a
// whole one is allowed), and 1e-11 m^2 for what both ways add up in doubles. Where a seam's integer is not its own
// measure, it is a piece of the wall's border or of a held giornata's rim, which keep their area though ends of other
// seams bring places of the lattice into them. Such a place lies at most three pitches of chart beside the line that is
// held (engine/seams/outline_edit.h), and what comes to that is shared out along the line by length, so a piece is off
// by no more than three pitches times its length; on the surface times the most that the chart stretches: a strip w
// wide and l long on the chart is at most w s1 wide where s2 l is its length. O(rim x triangles under it).
double sum_tolerance(const ChartedWall& wall, const Network& network, FaceId f);

// A place inside the rings, far from them (grid refinement; Garcia-Castellanos and Lombardo, "Poles of
// inaccessibility", 2007). Exactly inside.
ChartPoint label_place(std::span<const Ring> rings);

}  // namespace pontata
