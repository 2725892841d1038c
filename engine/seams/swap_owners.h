// Two giornate of one network trade their patches.
#pragma once

#include "engine/seams/network.h"

namespace pontata {

// Every face of `a` becomes `b`'s and the other way round; seams stay as they are. O(faces).
Network swapped_owners(const Network& network, GiornataId a, GiornataId b, const EdgeMeter& meter);

}  // namespace pontata
