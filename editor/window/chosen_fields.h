// What the panel of the chosen giornate is made of, for one of them and for several.
#pragma once

#include <string>
#include <vector>

#include "editor/window/workbench.h"

namespace pontata {

// A word; what follows it stands in the second column, or on a row of its own where either would not fit.
void field_label(const char* name, float value_width);
void figure(const char* name, const std::string& value);

// The state they have, or are to have.
void state_field(Workbench& bench, const std::vector<GiornataId>& of);
// Their own coat, in mm; empty: the project's.
void coat_field(Workbench& bench, const std::vector<GiornataId>& of);

void draw_group(Workbench& bench);  // the panel where several are chosen

}  // namespace pontata
