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

std::string plain_name(const Giornata& record) {
  const std::string number = "Giornata " + (record.number > 0 ? label_of(record) : std::to_string(record.id.value));
  return record.name.empty() ? number : fmt::format("{} ({})", number, record.name);
}

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
std::string arriccio_warning(double mm) {
  if (mm < 10 || mm > 20) return "is unusual: 10 to 15 mm is common, up to 20 mm in layers.";
  if (mm > 12) return "is best laid in two layers: above 12 mm one layer may slump or crack.";
  return {};
}

// Glossary entry "Intonaco", igrodry.com: 3-5 mm in general plastering; in fresco two coats of 5-12 mm together
// (common practice, no source).
std::string intonaco_warning(double mm) {
  if (mm < 3) return "below 3 mm it dries too fast to take a day's paint.";
  if (mm < 5) return "for fresco 5 to 12 mm is usual, a thinner one dries sooner.";
  if (mm > 12) return "above 12 mm it may sag and crack. Lay a thicker arriccio instead.";
  return {};
}

bool is_arriccio(const Coat& coat) { return coat.name == "arriccio"; }

// Warns of the coats, each `scale` times as thick as the settings say. `whose`: "The", or whose own they are.
void warn_of_thickness(const PlasterSettings& settings, double scale, std::string_view whose,
                       std::vector<std::string>& says) {
  double intonaco_mm = 0;
  for (const Coat& coat : settings.intonaco) {
    const double mm = coat.thickness_mm * scale;
    if (!is_arriccio(coat)) {
      intonaco_mm += mm;
    } else if (const std::string why = arriccio_warning(mm); !why.empty()) {
      says.push_back(fmt::format("{} arriccio of {} {}", whose, millimetres(mm), why));
    }
  }
  if (intonaco_mm <= 0) return;
  if (const std::string why = intonaco_warning(intonaco_mm); !why.empty())
    says.push_back(fmt::format("{} intonaco is {} thick in all: {}", whose, millimetres(intonaco_mm), why));
}

}  // namespace

std::vector<std::string> mix_warnings(const PlasterSettings& settings) {
  std::vector<std::string> says;
  for (const Coat& coat : settings.intonaco) warn_of_mix(coat, settings, says);
  warn_of_thickness(settings, 1, "The", says);
  return says;
}

std::vector<std::string> own_coat_warnings(std::span<const Giornata> records, const PlasterSettings& settings) {
  double usual_mm = 0;
  for (const Coat& coat : settings.intonaco) usual_mm += coat.thickness_mm;
  std::vector<std::string> says;
  if (!(usual_mm > 0)) return says;  // refused by validate
  for (const Giornata& record : records)
    if (record.alive && record.intonaco_mm && *record.intonaco_mm > 0)
      warn_of_thickness(settings, *record.intonaco_mm / usual_mm, fmt::format("{}: its own", plain_name(record)), says);
  return says;
}

}  // namespace pontata
