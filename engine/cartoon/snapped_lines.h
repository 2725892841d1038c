// Lines snapped on the bare wall, from which sheets are hung by tape and plumb bob.
//
// Where squares are drawn for squaring up, those are the lines. Otherwise they are what a level, a plumb bob and a
// string give: where level planes and upright planes meet the wall.
#pragma once

#include <string>
#include <vector>

#include "engine/cartoon/cartoon.h"

namespace pontata {

struct SnappedLine {
  enum class Kind { plumb, level, lengthwise };
  Kind kind = Kind::plumb;
  std::string name;                             // "plumb line C", "the springing"
  std::string sign;                             // what stands beside it on paper: "C", "2", "springing"
  std::string where;                            // how it is found, in words
  std::vector<std::vector<ChartPoint>> pieces;  // on the wall, m
};

// Plumb lines (upright planes square to the wall's run) stand at whole steps from the wall's centre line, measured
// along the surface on the chart's middle row, lettered from the left; the centre line is named. Level lines lie at
// whole steps of height from the springing where there is one, else from the building's zero, numbered from below; they
// stop where the wall is flatter than 41 degrees. There lengthwise lines (upright planes along the wall) take their
// place, at whole steps from the wall's foot measured up the centre line, with the crown line where the wall's middle
// is level. Without a place for any of them: no lines. O(lines x triangles).
std::vector<SnappedLine> snapped_lines(const CartoonWall& wall);

// Where the plane through `at` (m, in the building) with this normal meets the wall, in the chart; only triangles whose
// normal's upright part lies in [least, most]. Pieces end at borders and there. O(triangles).
std::vector<std::vector<ChartPoint>> plane_section(const ChartedWall& wall, const Vec3& at, const Vec3& normal,
                                                   double least = 0, double most = 1);

// Directions on the surface at a chart place, m a chart metre, and the unit normal toward the painter; nothing outside.
struct SurfaceFrame {
  Vec3 at{0, 0, 0}, along_u{1, 0, 0}, along_v{0, 0, 1}, normal{0, -1, 0};
};
std::optional<SurfaceFrame> surface_frame(const ChartedWall& wall, ChartPoint place);

}  // namespace pontata
