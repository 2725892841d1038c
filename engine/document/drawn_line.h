// Lines as they are drawn on a wall: brought onto it, cut up at the cuts of its chart, joined straight or hugged.
#pragma once

#include <vector>

#include "engine/chart/cut_crossing.h"
#include "engine/document/document.h"

namespace pontata {

// The line through places on the wall, or at most a few millimetres outside it, cut up where it crosses cuts. Refuses
// places farther outside and ways that go round the wall more than once.
Result<std::vector<CutPiece>> led(const WallItem& item, const std::vector<ChartPoint>& points, bool closed);

// Rings round what a closed line encloses, more than one where it crosses cuts. Refuses lines that go all the way round
// the wall.
Result<std::vector<Ring>> enclosed(const WallItem& item, const std::vector<ChartPoint>& points);

// Joined straight, measured on the surface.
HuggedLine straight_line(const WallItem& item, const std::vector<ChartPoint>& points, bool closed);

// Along the picture's contours (made where none are held yet) and the wall's seams, by the project's settings. Refused
// where a picture cannot be read.
Result<HuggedLine> hug_on(const Document& doc, const WallItem& item, const std::vector<CutPiece>& pieces, bool closed,
                          Progress* progress);

}  // namespace pontata
