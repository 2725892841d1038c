// The lines of a wall that a picture is set by: springing, crown, centre line and the edges, in its chart.
//
// For shapes they are exact, whatever openings are cut out (chart v of a barrel is the arc itself):
//   barrel, elliptical-barrel, pointed-barrel, annular: springing v = 0 and v = the whole arc, crown in the middle of
//     the arc.
//   apse: springing v = height of the drum, crown at the top of the half dome.
//   dome: springing the circle round the chart, crown its centre.
//   cloister: springing the four sides of the chart, crown its centre.
//   lunette: springing v = 0, crown v = rise.
//   sail, groin: crown the centre of the chart; they stand on their corners and have no line of springing.
//   flat, drum, cone, pendentive: neither.
// The centre line is the chart's line of symmetry. Of a scan, and of a pendentive's centre line, they are measured
// along the row or the column of the chart through the given place: the crown is the highest place of the column, the
// springing its lowest place between the crown and the foot, the centre line halves the row's length on the surface.
#pragma once

#include "engine/document/document.h"

namespace pontata {

enum class WallLineKind { springing, crown, centre_line, left_edge, right_edge };

struct WallLine {
  ChartPoint at;  // a place of the line, beside the middle where the line goes that way
  bool sets_u = false, sets_v = false;
  // Which part of what is set comes to lie there.
  enum class Part { foot, head, middle, left, right } part = Part::middle;
};

// For something whose middle is `middle` (chart m) and whose foot points to `foot` (unit, in the chart). Chart v of a
// scan's places is found to 0.1 mm. A Problem where the wall has no such line, or none beside this place.
Result<WallLine> wall_line(const WallItem& item, WallLineKind kind, const Vec2& middle, const Vec2& foot);

}  // namespace pontata
