// What is told about a setting by points, in plain words.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/picture/fit_model.h"

namespace pontata {

// "point 3"; "points 3 and 5": by the painter's numbers, from 1.
std::string point_name(std::size_t index);

// How the points lie: beyond the picture, nearly the same, nearly on a line, in one part of the picture. Points in the
// order of the painter's numbers.
std::vector<std::string> lie_warnings(const ChartedWall& wall, PictureSize picture,
                                      std::span<const MarkedPoint> points);

// Two camera places that fit the points equally well: where they are, which is taken, and a place of the wall whose
// marking would tell them apart. Empty where there is but one.
std::vector<std::string> camera_warnings(const ChartedWall& wall, PictureSize picture, std::span<const Camera> cameras,
                                         std::size_t taken);

}  // namespace pontata
