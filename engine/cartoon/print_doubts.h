// What the painter is to know of patterns that could not be made true.
#pragma once

#include <string>
#include <vector>

#include "engine/cartoon/cartoon.h"

namespace pontata {

// Greatest distance between the two prints of a seam that passes without a word, mm.
inline constexpr double kSeamsAgree = 0.5;

// One sentence a giornata whose seams are not true to `relief_mm` and kSeamsAgree, or else whose straight lines are not
// true to `relief_mm`; in the report's order.
std::vector<std::string> print_doubts(const CartoonReport& report, double relief_mm);

}  // namespace pontata
