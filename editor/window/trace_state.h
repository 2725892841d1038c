// What the trace says of the window in one frame; see trace.h for the members.
#pragma once

#include <string>

#include "editor/window/workbench.h"

namespace pontata {

std::string trace_state(Workbench& bench);

}  // namespace pontata
