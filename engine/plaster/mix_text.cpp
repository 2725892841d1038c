// Mixes from and to their text.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "engine/base/text.h"
#include "engine/base/units.h"
#include "engine/plaster/mortar.h"

namespace pontata {

namespace {

constexpr double kLeastPart = 0.01, kMostPart = 100;

struct Aggregate {
  std::string_view key, name;  // in a setting, in a sentence
  double Mix::*part;
};
constexpr std::array kAggregates{Aggregate{"sand", "sand", &Mix::sand},
                                 Aggregate{"marble", "marble dust", &Mix::marble},
                                 Aggregate{"pozzolana", "pozzolana", &Mix::pozzolana}};

std::string_view trimmed(std::string_view s) {
  while (!s.empty() && (s.front() == ' ' || s.front() == '\t')) s.remove_prefix(1);
  while (!s.empty() && (s.back() == ' ' || s.back() == '\t' || s.back() == ',')) s.remove_suffix(1);
  return s;
}

Problem not_a_mix(std::string_view text) {
  return {fmt::format("\"{}\" is not a mix of lime putty and sand", text), "",
          "Write parts of lime putty, then of sand, then how they are measured: \"1:2 volume\" or \"1:2 weight\"; with "
          "marble dust or pozzolana a word behind each part: \"1 : 1 sand : 0.5 marble volume\". Parts are from 0.01 "
          "to 100."};
}

// Takes the last word, or both of "by volume", off the end.
MixBasis take_basis(std::string_view& text) {
  MixBasis basis = MixBasis::by_volume;
  for (const auto& [word, is] : {std::pair{"volume", MixBasis::by_volume}, {"weight", MixBasis::by_weight}})
    if (text.ends_with(word)) {
      basis = is;
      text = trimmed(text.substr(0, text.size() - std::string_view(word).size()));
      if (text.ends_with(" by")) text = trimmed(text.substr(0, text.size() - 3));
      break;
    }
  return basis;
}

// A number and what is said behind it.
std::optional<double> take_part(std::string_view text, std::string_view& word) {
  text = trimmed(text);
  const std::size_t end = std::min(text.find_first_not_of("0123456789.,"), text.size());
  const auto number = parse_number(text.substr(0, end));
  word = trimmed(text.substr(end));
  if (!number || !(*number >= kLeastPart) || *number > kMostPart) return std::nullopt;
  return *number;
}

bool add_aggregate(Mix& mix, double part, std::string_view word) {
  for (const Aggregate& one : kAggregates) {
    if (word != one.key && word != one.name) continue;
    if (mix.*one.part > 0) return false;
    mix.*one.part = part;
    return true;
  }
  return false;
}

const char* basis_word(const Mix& mix) { return mix.basis == MixBasis::by_volume ? "volume" : "weight"; }

std::string parts_text(const Mix& mix, std::string_view Aggregate::*word) {
  std::string text;
  for (const Aggregate& one : kAggregates)
    if (mix.*one.part > 0) text += fmt::format(" : {} {}", format_number(mix.*one.part), one.*word);
  return text;
}

}  // namespace

Result<Mix> parse_mix(std::string_view text) {
  std::string_view rest = trimmed(text);
  Mix mix{.putty = 0, .sand = 0, .basis = take_basis(rest)};
  const auto parts = split(rest, ':');
  std::string_view word;
  const auto putty = take_part(parts[0], word);
  if (!putty || parts.size() < 2 || (!word.empty() && word != "lime putty" && word != "putty")) return not_a_mix(text);
  mix.putty = *putty;
  for (std::size_t i = 1; i < parts.size(); ++i) {
    const auto part = take_part(parts[i], word);
    if (word.empty() && parts.size() == 2) word = "sand";
    if (!part || !add_aggregate(mix, *part, word)) return not_a_mix(text);
  }
  return mix;
}

std::string describe(const Mix& mix) {
  return fmt::format("{} lime putty{}, by {}", format_number(mix.putty), parts_text(mix, &Aggregate::name),
                     basis_word(mix));
}

std::string format_mix(const Mix& mix) {
  if (mix.marble > 0 || mix.pozzolana > 0 || !(mix.sand > 0))
    return fmt::format("{}{} {}", format_number(mix.putty), parts_text(mix, &Aggregate::key), basis_word(mix));
  return fmt::format("{}:{} {}", format_number(mix.putty), format_number(mix.sand), basis_word(mix));
}

}  // namespace pontata
