// Measures after an edit, in time by what it changed.
#pragma once

#include <span>
#include <vector>

#include "engine/giornate/measures.h"

namespace pontata {

// Giornate whose measure may differ between two networks of one wall: some seam of their rim lies elsewhere, or has
// another giornata on one of its sides, across a cut too. By id. Costs what the two networks do not share, and with
// cuts the border.
std::vector<GiornataId> measures_changed(const ChartedWall& wall, const Network& before, const Network& after);

// measure_wall(wall, network, giornate), bit for bit, where `before` is the measure of an earlier network of this wall
// and `changed` what measures_changed tells of the two. O(seams and triangles of those that changed + faces of the wall
// + seams round its rest), and a pass over flags of the wall's points and triangles.
WallMeasure measure_again(const ChartedWall& wall, const Network& network, std::span<const Giornata> giornate,
                          const WallMeasure& before, std::span<const GiornataId> changed);

}  // namespace pontata
