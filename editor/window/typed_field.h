// Fields of the chosen giornate that are taken up by Enter and by leaving them; Esc gives up what was typed.
#pragma once

#include "editor/window/workbench.h"

namespace pontata {

// `value`: what stands there while nothing is typed. What is typed counts for all of `of`. As wide as the row.
void typed_field(Workbench& bench, const std::vector<GiornataId>& of, Workbench::Field field, const std::string& value);

// Takes up what was typed as one undo step. Precondition: something is being typed.
void keep_typed(Workbench& bench);

}  // namespace pontata
