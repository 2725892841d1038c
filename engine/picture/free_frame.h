// The largest place for a picture in an area of the chart that has any shape and holes.
#pragma once

#include <optional>
#include <span>

#include "engine/picture/placement.h"

namespace pontata {

// The largest frame of these proportions, turned by `turn_deg`, that lies within the area inside the rings (even-odd;
// rings may share edges). Its width is within `tolerance` (m) of the largest there is, and it never reaches out of the
// area by more than rounding. Of equal ones the first found, always the same. Nothing where none wider than `tolerance`
// fits.
//
// Turned back and drawn out so that the picture is a square, the area's largest square about a place has as half its
// side the distance from that place to the rim in the maximum norm; that distance changes by no more than the place
// does, so squares of places are searched best first and left out where their middle's distance and half their side
// cannot reach the best found.
//
// Based on: Land & Doig, "An Automatic Method of Solving Discrete Programming Problems", 1960 (branch and bound).
std::optional<PictureFrame> largest_frame(std::span<const Ring> rings, PictureSize picture, double turn_deg,
                                          double tolerance);

}  // namespace pontata
