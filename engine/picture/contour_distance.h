// How far contours are that run a given way.
#pragma once

#include "engine/picture/contours.h"

namespace pontata {

// As distance_to_contour, but only of contours that run within `within_rad` of the chart direction `along` (not 0),
// either way.
double distance_to_contour_along(const ChartedWall& wall, const ContourField& field, ChartPoint p, Vec2 along,
                                 double within_rad, double reach, double strength);

}  // namespace pontata
