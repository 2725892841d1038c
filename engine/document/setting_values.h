// The values of settings that are more than a number, from and to their text.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/base/result.h"
#include "engine/plaster/mortar.h"

namespace pontata {

// A number in `unit`; where that is mm or m, a length with its own unit is taken too ("0.5cm" for a key in mm).
Result<double> read_in_unit(const std::string& text, const std::string& unit);

Result<std::optional<double>> read_rate(const std::string& text);  // m2/h, or "none"
std::string write_rate(const std::optional<double>& rate);

Result<Mix> read_mix(const std::string& text);  // "1:1.5 volume", "1:2 weight"; volume when not said
std::string write_mix(const Mix& mix);

Result<std::vector<double>> read_levels(const std::string& text);  // "2,4,6.1" in m, rising; or "auto"
std::string write_levels(const std::vector<double>& levels);

Result<std::string> read_workdays(const std::string& text);  // "1-5", "1-6", "1,3,5"
Result<std::string> read_paper(const std::string& text);

}  // namespace pontata
