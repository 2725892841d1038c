// Lengths and angles as people type them. Comma or point as decimal mark; a bare number is metres (degrees).
#pragma once

#include <string>
#include <string_view>

#include "engine/base/result.h"

namespace pontata {

// "4.2m", "15mm", "30cm", "2ft", "6in", "4,2" -> metres. Refuses anything else, and non-finite values.
Result<double> parse_length(std::string_view text);

// "90deg", "90" -> degrees.
Result<double> parse_angle_deg(std::string_view text);

// A plain number with comma or point, independent of the locale.
Result<double> parse_number(std::string_view text);

// Shortest text that reads back to the same double; decimal point in every locale.
std::string format_number(double value);

// Fixed decimals, decimal point in every locale.
std::string format_fixed(double value, int decimals);

}  // namespace pontata
