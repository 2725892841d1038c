// Which giornate keep their seams where they are.
#pragma once

#include <functional>
#include <string>

#include "engine/base/ids.h"

namespace pontata {

// Why the seams of a giornata may not move, in words that end a sentence ("giornata 7 is painted"); empty where they
// may. Never asked about the rest. A null function holds nothing. A held giornata's seams only gain vertices where
// another seam meets them (moved by a pitch at most); an edit that would need more is refused with these words.
using SeamHold = std::function<std::string(GiornataId)>;

}  // namespace pontata
