#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/plaster/mortar.h"

namespace pontata {

namespace {

std::string_view trimmed(std::string_view s) {
  while (!s.empty() && s.front() == ' ') s.remove_prefix(1);
  while (!s.empty() && s.back() == ' ') s.remove_suffix(1);
  return s;
}

Problem not_a_mix(std::string_view text) {
  return {fmt::format("\"{}\" is not a mix of lime putty and sand", text), "",
          "Write parts of putty, then of sand, then how they are measured: \"1:2 volume\" or \"1:2 weight\"."};
}

bool parse_basis(std::string_view word, MixBasis& basis) {
  if (word.empty() || word == "volume" || word == "by volume") {
    basis = MixBasis::by_volume;
    return true;
  }
  basis = MixBasis::by_weight;
  return word == "weight" || word == "by weight";
}

bool parse_parts(std::string_view text, double& parts) {
  const auto number = parse_number(text);
  if (!number) return false;
  parts = *number;
  return parts > 0;
}

}  // namespace

Result<Mix> parse_mix(std::string_view text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos) return not_a_mix(text);
  const std::string_view right = trimmed(text.substr(colon + 1));
  const std::size_t end = std::min(right.find_first_not_of("0123456789.,"), right.size());
  Mix mix;
  if (!parse_parts(trimmed(text.substr(0, colon)), mix.putty) || !parse_parts(right.substr(0, end), mix.sand) ||
      !parse_basis(trimmed(right.substr(end)), mix.basis))
    return not_a_mix(text);
  return mix;
}

std::string describe(const Mix& mix) {
  return fmt::format("{} lime putty : {} sand, by {}", format_number(mix.putty), format_number(mix.sand),
                     mix.basis == MixBasis::by_volume ? "volume" : "weight");
}

std::string format_mix(const Mix& mix) {
  return fmt::format("{}:{} {}", format_number(mix.putty), format_number(mix.sand),
                     mix.basis == MixBasis::by_volume ? "volume" : "weight");
}

double mortar_yield_L(double putty_L, double sand_L, double voids) {
  return std::max(sand_L, sand_L * (1 - voids) + putty_L);
}

Mix by_volume(const Mix& mix, const PlasterSettings& settings) {
  if (mix.basis == MixBasis::by_volume) return mix;
  const double putty_L = mix.putty / settings.putty_kg_per_L;
  const double sand_L = mix.sand / settings.sand_kg_per_L;
  return {1, sand_L / putty_L, MixBasis::by_volume};
}

namespace {

std::string millimetres(double mm) { return format_number(std::round(mm * 100) / 100) + " mm"; }

void warn_of_mix(const Coat& coat, const PlasterSettings& settings, std::vector<std::string>& says) {
  const Mix mix = by_volume(coat.mix, settings);
  const double sand = mix.sand / mix.putty;
  if (coat.mix.basis == MixBasis::by_weight)
    // The Chemistry of Paints and Painting, p. 55: first coats are given by weight, and differ from the same by volume.
    says.push_back(
        fmt::format("The {} coat's mix is by weight ({}): measured by volume it is 1 lime putty : {} sand. Do "
                    "not measure it out in buckets as it is written.",
                    coat.name, describe(coat.mix), format_fixed(sand, 2)));
  constexpr double kSlack = 1e-9;
  if (sand < 1 - kSlack)  // common practice, no source: richer mixes shrink more as they dry
    says.push_back(
        fmt::format("The {} coat's mix is richer than 1 lime putty : 1 sand (1 : {} by volume): it shrinks more "
                    "as it dries and may crack. Add sand.",
                    coat.name, format_fixed(sand, 2)));
  if (sand > 3 + kSlack)  // a lime maker's user guide: putty holds at most about three times its volume of sand
    says.push_back(
        fmt::format("The {} coat's mix is leaner than 1 lime putty : 3 sand (1 : {} by volume): the putty cannot "
                    "bind so much sand and the coat will dust. Take less sand.",
                    coat.name, format_fixed(sand, 2)));
}

// Technical dictionary entry "Arriccio", teknoring.com: 10-15 mm; in practice to 20, in layers above 12.
void warn_of_arriccio(const Coat& coat, std::vector<std::string>& says) {
  if (coat.thickness_mm < 10 || coat.thickness_mm > 20)
    says.push_back(fmt::format("An arriccio of {} is unusual: 10 to 15 mm is common, up to 20 mm in layers.",
                               millimetres(coat.thickness_mm)));
  else if (coat.thickness_mm > 12)
    says.push_back(
        fmt::format("An arriccio of {} is best laid in two layers: above 12 mm one layer may slump or crack.",
                    millimetres(coat.thickness_mm)));
}

// Glossary entry "Intonaco", igrodry.com: 3-5 mm in general plastering; in fresco two coats of 5-12 mm together
// (common practice, no source).
void warn_of_intonaco(double total_mm, std::vector<std::string>& says) {
  if (total_mm < 3)
    says.push_back(fmt::format("The intonaco is {} thick in all: below 3 mm it dries too fast to take a day's paint.",
                               millimetres(total_mm)));
  else if (total_mm < 5)
    says.push_back(
        fmt::format("The intonaco is {} thick in all: for fresco 5 to 12 mm is usual, a thinner one dries sooner.",
                    millimetres(total_mm)));
  else if (total_mm > 12)
    says.push_back(
        fmt::format("The intonaco is {} thick in all: above 12 mm it may sag and crack. Lay a thicker arriccio "
                    "instead.",
                    millimetres(total_mm)));
}

}  // namespace

std::vector<std::string> mix_warnings(const PlasterSettings& settings) {
  std::vector<std::string> says;
  double intonaco_mm = 0;
  for (const Coat& coat : settings.intonaco) {
    warn_of_mix(coat, settings, says);
    if (coat.name == "arriccio")
      warn_of_arriccio(coat, says);
    else
      intonaco_mm += coat.thickness_mm;
  }
  if (intonaco_mm > 0) warn_of_intonaco(intonaco_mm, says);
  return says;
}

}  // namespace pontata
