// Small helpers for typed text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pontata {

// The parts between the marks, empty ones too; always one part more than there are marks.
std::vector<std::string> split(std::string_view text, char mark);

}  // namespace pontata
