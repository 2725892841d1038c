// How the table of settings makes its entries. Internal to the files that fill it (settings_table, settings_day,
// settings_plaster).
//
// `at` is everywhere a generic lambda from Settings& to the value's place, const or not.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "engine/base/units.h"
#include "engine/document/setting_values.h"
#include "engine/document/settings_table.h"

namespace pontata::making {

struct Range {
  double least = 0, greatest = 0;
};

// Of a value outside its range: names the key and the range.
inline Problem out_of_range(const std::string& key, const std::string& value, Range range, const std::string& unit) {
  return {fmt::format("{} cannot be \"{}\"", key, value), "",
          fmt::format("Give a number from {} to {}{}{}.", format_number(range.least), format_number(range.greatest),
                      unit.empty() ? "" : " ", unit)};
}

// A number in `unit` (read_in_unit).
template <class At>
Setting number(std::string key, std::string unit, Range range, std::string meaning, At at) {
  Setting s{std::move(key), SettingKind::number, {}, std::move(unit), std::move(meaning), {}, {}};
  s.get = [at](const Settings& settings) { return format_number(at(settings)); };
  s.set = [at, range, name = s.key, of = s.unit](Settings& settings, const std::string& text) -> Outcome {
    const auto value = read_in_unit(text, of);
    if (!value || *value < range.least || *value > range.greatest) return out_of_range(name, text, range, of);
    at(settings) = *value;
    return Done{};
  };
  return s;
}

// A whole number; its place is an int.
template <class At>
Setting whole(std::string key, Range range, std::string meaning, At at) {
  Setting s{std::move(key), SettingKind::number, {}, "", std::move(meaning), {}, {}};
  s.get = [at](const Settings& settings) { return std::to_string(at(settings)); };
  s.set = [at, range, name = s.key](Settings& settings, const std::string& text) -> Outcome {
    const auto value = parse_number(text);
    if (!value || *value < range.least || *value > range.greatest || *value != std::floor(*value))
      return Problem{fmt::format("{} cannot be \"{}\"", name, text), "",
                     fmt::format("Give a whole number from {} to {}.", range.least, range.greatest)};
    at(settings) = static_cast<int>(*value);
    return Done{};
  };
  s.whole = true;
  return s;
}

// A value of its own type T with read(text) -> Result<T> and write(T) -> text.
template <class At, class Read, class Write>
Setting written(std::string key, std::string unit, std::string meaning, At at, Read read, Write write) {
  Setting s{std::move(key), SettingKind::text, {}, std::move(unit), std::move(meaning), {}, {}};
  s.get = [at, write](const Settings& settings) { return write(at(settings)); };
  s.set = [at, read, name = s.key](Settings& settings, const std::string& text) -> Outcome {
    auto value = read(text);
    if (!value) return Problem{name + ": " + value.problem().what, "", value.problem().remedy};
    at(settings) = std::move(*value);
    return Done{};
  };
  return s;
}

// A rate that may be unknown, in m2/h.
template <class At>
Setting rate(std::string key, std::string meaning, At at) {
  Setting s = written(std::move(key), "m²/h", std::move(meaning), at, read_rate, write_rate);
  s.kind = SettingKind::number;
  return s;
}

// A number that may be unknown: "none".
template <class At>
Setting maybe(std::string key, std::string unit, Range range, std::string meaning, At at) {
  const auto read = [key, range, unit](const std::string& text) -> Result<std::optional<double>> {
    if (text == "none") return std::optional<double>{};
    const auto value = read_in_unit(text, unit);
    if (value && *value >= range.least && *value <= range.greatest) return std::optional<double>(*value);
    Problem problem = out_of_range(key, text, range, unit);
    problem.remedy.insert(problem.remedy.size() - 1, ", or none");
    return problem;
  };
  Setting s = written(key, unit, std::move(meaning), at, read, write_rate);
  s.kind = SettingKind::number;
  return s;
}

}  // namespace pontata::making

namespace pontata {

// Append the keys of one group, in the order they are shown.
void add_day_settings(std::vector<Setting>& keys);
void add_plaster_settings(std::vector<Setting>& keys, const Settings& settings);

}  // namespace pontata
