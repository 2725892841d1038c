// Many seams laid at once: the rest of a wall parted into giornate.
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "engine/chart/chart.h"
#include "engine/seams/network.h"

namespace pontata {

// Lays the lines into the rest faces and gives every face that was rest to `owner_of` (a place well inside it). What
// comes to lie between faces of one owner is taken away again. Preconditions: the lines cross neither themselves nor
// each other and meet only at their ends; ends that are to reach the wall's border or another giornata's seam lead on
// beyond it. What of a line lies beyond is left out. A face without an owner (none) stays rest; pieces of an owner
// other than its largest go to a neighbour. Refuses lines that cannot be told apart from seams beside them. O(points
// log seams).
Result<Network> lay_partition(const Network& network, std::span<const std::vector<LatticePoint>> lines,
                              const std::function<GiornataId(ChartPoint)>& owner_of, const EdgeMeter& meter,
                              const Chart* chart = nullptr);

}  // namespace pontata
