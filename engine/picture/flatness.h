// Whether a wall is flat, so that a flat view of it is a plane's.
#pragma once

#include "engine/chart/charted_wall.h"

namespace pontata {

// Every point of the surface within 1 mm, or 1/4000 of the chart's diagonal, of the plane that a rigid copy of the
// chart is laid onto by least squares; so lengths in its chart are lengths on the wall.
bool lies_flat(const ChartedWall& wall);

}  // namespace pontata
