// Which giornate zones may lie in.
#pragma once

#include <span>
#include <vector>

#include "engine/giornate/giornata.h"
#include "engine/seams/network.h"

namespace pontata {

// Every giornata that shares more than a line with the box of some zone's ring, and perhaps more; by id. Costs what
// lies near the zones.
std::vector<GiornataId> giornate_near(const Network& network, std::span<const Zone> zones);

}  // namespace pontata
