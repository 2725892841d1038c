// The field that says what is painted in a zone.
#pragma once

#include "editor/window/workbench.h"

namespace pontata {

// A list of the subjects; true when another one was chosen. `name` is the control's name, its choices are
// "<name>.faces" and so on.
bool subject_field(Workbench& bench, const char* name, Subject& subject);

}  // namespace pontata
