// The window: opens on a project and returns when the user closes it.
#pragma once

#include <string>

namespace pontata {

// `project` may be empty (a new project) or name a file that does not exist yet. Returns the exit status: 0 when the
// window was closed by the user, 1 when it could not open (no display, no OpenGL, unreadable project), said in one line
// on stderr.
int open_window(const std::string& project);

}  // namespace pontata
