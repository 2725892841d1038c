// A part of a page under a heading that opens and closes.
#pragma once

#include <string>

#include "editor/window/workbench.h"

namespace pontata {

// True while it is open. `id` names the heading on screen, "section.<id>"; `after` stands behind the title: a count, or
// what it comes to.
bool section(Workbench& bench, const char* id, const char* title, bool open_at_first = false,
             const std::string& after = "");

}  // namespace pontata
