// Every verb of the command line, in the order of the job; each is declared and done in the file of its name.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "editor/verbs/usage.h"

namespace pontata {

std::span<const Verb> all_verbs();

// Reads the arguments (without the program's name) and runs the verb; the exit status.
int run_command_line(const std::vector<std::string>& arguments);

}  // namespace pontata
