// Picture and plane by points: size, place and turn.
//
// Based on: Umeyama, "Least-squares estimation of transformation parameters between two point patterns", 1991; in the
// plane its rotation and scale are one complex number (Horn, "Closed-form solution of absolute orientation using unit
// quaternions", 1987, section on two dimensions).
#pragma once

#include <span>

#include "engine/picture/placement.h"

namespace pontata {

// A pixel (x right, y down) and the place (m, right and up) that it shows.
struct PlanePair {
  Vec2 pixel{0, 0};
  Vec2 place{0, 0};
};

// The frame that puts the points' pixels nearest to where they were marked, by least squares in pixels. Never mirrored.
// Refuses fewer than two points, and points all at one place.
Result<PictureFrame> fit_similarity(PictureSize picture, std::span<const PlanePair> pairs);

// Three points and more that fit clearly better when the picture is turned over: left and right, or above and below,
// were taken one for the other.
bool looks_mirrored(std::span<const PlanePair> pairs);

}  // namespace pontata
