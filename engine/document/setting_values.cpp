#include "engine/document/setting_values.h"

#include <fmt/format.h>

#include <cmath>

#include "engine/base/text.h"
#include "engine/base/units.h"
#include "engine/cartoon/cartoon.h"

namespace pontata {

namespace {

bool is_weekday(const std::string& text) { return text.size() == 1 && text[0] >= '1' && text[0] <= '7'; }

}  // namespace

Result<double> read_in_unit(const std::string& text, const std::string& unit) {
  auto plain = parse_number(text);
  if (plain || (unit != "mm" && unit != "m")) return plain;
  const auto length = parse_length(text);
  if (!length) return length.problem();
  // Twelve decimals keep "7mm" exactly 7.
  return unit == "m" ? *length : std::round(*length * 1e15) / 1e12;
}

Result<std::optional<double>> read_rate(const std::string& text) {
  if (text == "none") return std::optional<double>{};
  const auto value = parse_number(text);
  if (!value || *value < 0.001 || *value > 100)
    return Problem{"\"" + text + "\" is not a painting rate", "",
                   "Give square metres an hour from 0.001 to 100, or none."};
  return std::optional<double>(*value);
}

std::string write_rate(const std::optional<double>& rate) { return rate ? format_number(*rate) : "none"; }

Result<Mix> read_mix(const std::string& text) {
  const Problem wrong{"\"" + text + "\" is not a mix", "",
                      "Write lime putty : sand, like \"1:1.5 volume\" or \"1:2 weight\"."};
  const auto parts = split(text, ':');
  if (parts.size() != 2) return wrong;
  const auto end = parts[1].find_first_of(" \t");
  const std::string basis =
      end == std::string::npos ? "volume" : parts[1].substr(parts[1].find_first_not_of(" \t", end));
  const auto putty = parse_number(parts[0]);
  const auto sand = parse_number(parts[1].substr(0, end));
  if (!putty || !sand || (basis != "volume" && basis != "weight")) return wrong;
  if (*putty < 0.01 || *sand < 0 || *putty > 100 || *sand > 100) return wrong;
  return Mix{*putty, *sand, basis == "weight" ? MixBasis::by_weight : MixBasis::by_volume};
}

std::string write_mix(const Mix& mix) {
  return fmt::format("{}:{} {}", format_number(mix.putty), format_number(mix.sand),
                     mix.basis == MixBasis::by_weight ? "weight" : "volume");
}

Result<std::vector<double>> read_levels(const std::string& text) {
  std::vector<double> levels;
  if (text == "auto") return levels;
  for (const auto& part : split(text, ',')) {
    const auto level = parse_length(part);
    if (!level || std::abs(*level) > 1000 || (!levels.empty() && *level <= levels.back()) || levels.size() >= 200)
      return Problem{"\"" + text + "\" is not a list of deck heights", "",
                     "Give heights in metres, rising, like 2,4,6.1, or auto."};
    levels.push_back(*level);
  }
  return levels;
}

std::string write_levels(const std::vector<double>& levels) {
  std::string text;
  for (const double level : levels) text += (text.empty() ? "" : ",") + format_number(level);
  return text.empty() ? "auto" : text;
}

Result<std::string> read_workdays(const std::string& text) {
  for (const auto& part : split(text, ',')) {
    const auto ends = split(part, '-');
    const bool single = ends.size() == 1 && is_weekday(ends[0]);
    const bool range = ends.size() == 2 && is_weekday(ends[0]) && is_weekday(ends[1]) && ends[0] <= ends[1];
    if (!single && !range)
      return Problem{"\"" + text + "\" does not name days of the week", "",
                     "1 is Monday, 7 Sunday: write 1-5, 1-6 or 1,3,5."};
  }
  return text;
}

Result<std::string> read_paper(const std::string& text) {
  const auto paper = paper_named(text);
  if (!paper) return paper.problem();
  return paper->name;
}

}  // namespace pontata
