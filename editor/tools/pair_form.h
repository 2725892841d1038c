// What is shown and asked of the pairs: their list, how the picture is to be set by them, and how true that is.
#pragma once

#include <optional>

#include "editor/tools/pairs.h"

namespace pontata {

void draw_pair_form(Workbench& bench);

// What is always told of a setting by points, in plain words; what is to be minded stands out.
void tell_fit(const FitReport& report);

// The pair that agrees with none of the others, where there is one.
std::optional<std::size_t> doubtful_pair(const Pairs& pairs);

}  // namespace pontata
