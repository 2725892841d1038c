// The recovery copy: what the window saves by itself every few minutes, under the XDG state folder, never over the
// user's file.
//
// Based on: XDG Base Directory Specification 0.8, 2021 ($XDG_STATE_HOME, by default ~/.local/state).
#pragma once

#include <optional>
#include <string>

#include "engine/document/document.h"

namespace pontata {

// Where the copy of this project lies: one file per absolute project path; an empty path names the untitled project.
// Empty when there is neither XDG_STATE_HOME nor HOME.
std::string recovery_path(const std::string& project);

// Writes the copy, making its folder (readable by the user alone).
Outcome write_recovery(const Document& doc, const std::string& project);

// The copy's path when there is one that is newer than the project's file (or the file is missing).
std::optional<std::string> find_recovery(const std::string& project);

// After a save, or when the user declines it. A missing copy is no fault.
void remove_recovery(const std::string& project);

}  // namespace pontata
