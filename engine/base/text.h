// Small helpers for typed text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pontata {

// The parts between the marks, empty ones too; always one part more than there are marks.
std::vector<std::string> split(std::string_view text, char mark);

// Text of XML: & < > and double quotes written as references.
std::string xml_escaped(std::string_view words);

// Fixed decimals without zeros at the end; a decimal point in every locale, never "-0".
std::string short_decimal(double value, int digits = 10);

}  // namespace pontata
