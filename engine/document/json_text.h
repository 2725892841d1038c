// JSON as text that people can read and version control can compare: one key a line, rows of numbers on one line.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

namespace pontata {

// Keys in the order they were put in, numbers as the shortest text that reads back to the same double. Ends with a line
// break. The same value gives the same bytes in every locale.
std::string json_text(const nlohmann::ordered_json& value);

}  // namespace pontata
