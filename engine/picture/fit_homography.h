// Picture and flat wall by points: a plane seen from anywhere.
//
// Based on: Hartley, "In defense of the eight-point algorithm", 1997 (normalised linear solution); Hartley & Zisserman,
// "Multiple View Geometry", 2004, section 4.2 (geometric error in one picture).
#pragma once

#include <span>

#include "engine/picture/camera.h"
#include "engine/picture/fit_similarity.h"

namespace pontata {

// Takes (place, 1) to pixels (x, y, w), as HomographyLay; w is positive at every point and 1 in their mean. Least sum
// of squared distances in pixels. Refuses fewer than four points, points of which all but one lie on a line, and points
// that no view of a flat wall from its painted side can show (mirrored, or beyond its horizon).
Result<Mat3> fit_homography(std::span<const PlanePair> pairs);

}  // namespace pontata
