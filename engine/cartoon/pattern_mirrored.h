// A pattern for those who trace from behind.
#pragma once

#include "engine/cartoon/pattern.h"

namespace pontata {

// Mirrored left to right: all places, with rims and stretches run the other way so that the giornata stays on their
// left, and the sides of cuts exchanged.
Pattern mirrored(const Pattern& pattern);

}  // namespace pontata
