// What a hugging line follows, in plain words.
#pragma once

#include <string>

#include "engine/document/document.h"

namespace pontata {

// Such as "follows the seam of 7 and 8", "follows the wall's edge, 0.80 m, then a contour, 0.42 m" or "straight:
// nothing near to follow"; giornate by what is written on the wall. In the order of the line, each thing once, two at
// most; what makes up less than a twentieth of the line is not told.
std::string hug_words(const Document& document, const HuggedLine& line);

}  // namespace pontata
