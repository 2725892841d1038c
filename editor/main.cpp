// Chooses the window or a verb.
#include <vector>

#include "editor/verbs/verbs.h"

int main(int argc, char** argv) { return pontata::run_command_line(std::vector<std::string>(argv + 1, argv + argc)); }
