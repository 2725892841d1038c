// Laying a picture by plan or by elevation: straight onto the wall, as a drawing that an architect's plan or elevation
// was traced from.
#pragma once

#include "engine/chart/charted_wall.h"
#include "engine/picture/lay.h"

namespace pontata {

// By plan, the wall is seen along the vertical from its painted side: from below for a vault, so that the picture reads
// right to someone looking up, from above for a floor; the picture's right is where the chart's u runs on the whole (at
// the chart place `at` where it runs no way on the whole, as on a wall that goes all round). By elevation it is seen
// level, against the direction the wall faces on the whole (its facing at `at` where it faces no way on the whole, as a
// barrel or a drum all round); the picture's upper edge is level.
//
// Every place whose painted side faces that view takes the pixel it projects to, one that stands behind another too;
// places turned away stay bare (sight_of in sight.h), so that of a drum all round only the half beyond its middle is
// laid upon.
//
// The picture's lower left corner goes to the projected place of `at` (beside the wall: of the nearest place on it);
// its width is `width_m` true metres, level or in the plan; its height follows from its proportions; turned about that
// corner by turn_deg, counter-clockwise as seen. width_m 0: it is as wide as what shows of the wall, its corner at the
// lower left of that, whatever `at`.
// A Problem for unusable numbers, where less than a fiftieth of the wall shows in that projection, and where the
// picture would lie beside what shows. O(triangles).
Result<PlaneLay> place_by_plane(const ChartedWall& wall, PictureSize picture, bool plan, ChartPoint at, double width_m,
                                double turn_deg);

// Unit direction a plane lay is seen along, away from the viewer.
Vec3 looks_along(const PlaneLay& lay);

}  // namespace pontata
