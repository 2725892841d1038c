// Marks to prick for pouncing (spolvero): dots along the contours, through which the drawing is dusted onto the
// plaster.
#pragma once

#include <span>
#include <vector>

#include "engine/cartoon/pattern_carrier.h"

namespace pontata {

// The contours as they run over the pattern. Stretches shorter than 3 mm are left out, and those that run along the
// outline, nearer than 0.8 mm to it for 6 mm and more: the outline stands for them.
std::vector<CarriedLine> pattern_contours(const Pattern& pattern, const PatternCarrier& carrier);

// Centres, mm on the pattern. Every end, fork and corner (a turn of 40 degrees and more within 2 mm to either side) of
// a line has a mark; between them the marks stand evenly, as near as can be to the spacing `print` gives for the place:
// the one for faces in keep-whole zones, else the one for drapery in detail zones, else the one for architecture. No
// two marks are nearer than half the smaller of their spacings (a corner that would be is left out), none nearer than
// 1.5 mm to the outline, which is cut. O(length of the lines + marks x outline).
std::vector<Vec2> prick_marks(std::span<const CarriedLine> lines, std::span<const Zone> zones,
                              std::span<const std::vector<Vec2>> outline, const PrintChoice& print);

}  // namespace pontata
