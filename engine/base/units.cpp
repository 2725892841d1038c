#include "engine/base/units.h"

#include <array>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

namespace pontata {

namespace {

std::string_view trim(std::string_view s) {
  while (!s.empty() && (s.front() == ' ' || s.front() == '\t')) s.remove_prefix(1);
  while (!s.empty() && (s.back() == ' ' || s.back() == '\t')) s.remove_suffix(1);
  return s;
}

Problem not_a(std::string_view kind, std::string_view text, std::string_view example) {
  return {fmt::format("\"{}\" is not {}", text, kind), "", fmt::format("Write it like {}.", example)};
}

// Number and what follows it.
bool split_number(std::string_view text, double& value, std::string_view& rest) {
  std::string copy(trim(text));
  for (char& c : copy)
    if (c == ',') c = '.';
  const char* begin = copy.data();
  if (*begin == '+') ++begin;
  const auto [end, error] = std::from_chars(begin, copy.data() + copy.size(), value);
  if (error != std::errc{} || !std::isfinite(value)) return false;
  rest = trim(trim(text).substr(static_cast<std::size_t>(end - copy.data())));
  return true;
}

struct Unit {
  std::string_view name;
  double metres;
};
constexpr std::array<Unit, 7> kUnits{{{"", 1}, {"m", 1}, {"cm", 0.01}, {"mm", 0.001}, {"ft", 0.3048}, {"in", 0.0254}, {"km", 1000}}};

}  // namespace

Result<double> parse_length(std::string_view text) {
  double value = 0;
  std::string_view unit;
  if (split_number(text, value, unit))
    for (const auto& u : kUnits)
      if (u.name == unit) return value * u.metres;
  return not_a("a length", text, "4.2m, 35cm or 15mm");
}

Result<double> parse_angle_deg(std::string_view text) {
  double value = 0;
  std::string_view unit;
  if (split_number(text, value, unit) && (unit.empty() || unit == "deg" || unit == "°")) return value;
  return not_a("an angle", text, "30deg");
}

Result<double> parse_number(std::string_view text) {
  double value = 0;
  std::string_view unit;
  if (split_number(text, value, unit) && unit.empty()) return value;
  return not_a("a number", text, "2.5");
}

std::string format_number(double value) { return fmt::format("{}", value == 0 ? 0.0 : value); }

std::string format_fixed(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.find_first_not_of("-0.") == std::string::npos && text.front() == '-') text.erase(0, 1);
  return text;
}

}  // namespace pontata
