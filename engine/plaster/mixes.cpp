#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/plaster/mortar.h"
#include "engine/plaster/sand.h"

namespace pontata {

double mortar_yield_L(double putty_L, double sand_L, double voids) {
  return std::max(sand_L, sand_L * (1 - voids) + putty_L);
}

double mortar_yield_L(const Mix& by_volume, const PlasterSettings& settings) {
  const SupplySettings& supply = settings.supply;
  const double grains = by_volume.sand * (1 - settings.voids) + by_volume.marble * (1 - supply.marble_voids) +
                        by_volume.pozzolana * (1 - supply.pozzolana_voids);
  return std::max(aggregates(by_volume), grains + by_volume.putty);
}

double aggregates(const Mix& mix) { return mix.sand + mix.marble + mix.pozzolana; }

Mix by_volume(const Mix& mix, const PlasterSettings& settings) {
  if (mix.basis == MixBasis::by_volume) return mix;
  const double putty_L = mix.putty / putty_density(settings);
  return {.putty = 1,
          .sand = mix.sand / settings.sand_kg_per_L / putty_L,
          .basis = MixBasis::by_volume,
          .marble = mix.marble / settings.supply.marble_kg_per_L / putty_L,
          .pozzolana = mix.pozzolana / settings.supply.pozzolana_kg_per_L / putty_L};
}

namespace {

std::string plain_name(const Giornata& record) {
  const std::string number = "Giornata " + (record.number > 0 ? label_of(record) : std::to_string(record.id.value));
  return record.name.empty() ? number : fmt::format("{} ({})", number, record.name);
}

std::string millimetres(double mm) { return format_number(std::round(mm * 100) / 100) + " mm"; }

// "sand", or "sand and marble dust" where a mix has several.
std::string aggregate_words(const Mix& mix) {
  std::string words;
  for (const auto& [part, name] :
       {std::pair{mix.sand, "sand"}, {mix.marble, "marble dust"}, {mix.pozzolana, "pozzolana"}})
    if (part > 0) words += (words.empty() ? "" : " and ") + std::string(name);
  return words;
}

void warn_of_mix(const Coat& coat, const PlasterSettings& settings, std::vector<std::string>& says) {
  const Mix mix = by_volume(coat.mix, settings);
  const double parts = aggregates(mix) / mix.putty;
  const std::string of = aggregate_words(mix);
  if (coat.mix.basis == MixBasis::by_weight)
    // The Chemistry of Paints and Painting, p. 55: first coats are given by weight, and differ from the same by volume.
    says.push_back(
        fmt::format("The {} coat's mix is by weight ({}): measured by volume it is 1 lime putty : {} {}. Do "
                    "not measure it out in buckets as it is written.",
                    coat.name, describe(coat.mix), format_fixed(parts, 2), of));
  constexpr double kSlack = 1e-9;
  if (parts < 1 - kSlack)  // common practice, no source: richer mixes shrink more as they dry
    says.push_back(
        fmt::format("The {} coat's mix is richer than 1 lime putty : 1 {} (1 : {} by volume): it shrinks more "
                    "as it dries and may crack. Add {}.",
                    coat.name, of, format_fixed(parts, 2), of));
  if (parts > 3 + kSlack)  // a lime maker's user guide: putty holds at most about three times its volume of sand
    says.push_back(
        fmt::format("The {} coat's mix is leaner than 1 lime putty : 3 {} (1 : {} by volume): the putty cannot "
                    "bind so much and the coat will dust. Take less {}.",
                    coat.name, of, format_fixed(parts, 2), of));
}

// Technical dictionary entry "Arriccio", teknoring.com: 10-15 mm; in practice to 20, in layers above 12.
std::string arriccio_warning(double mm) {
  if (mm < 10 || mm > 20) return "is unusual: 10 to 15 mm is common, up to 20 mm in layers.";
  if (mm > 12) return "is best laid in two layers: above 12 mm one layer may slump or crack.";
  return {};
}

// Common practice, no source.
std::string rinzaffo_warning(double mm) {
  if (mm < 3 || mm > 10) return "is unusual: it is thrown on thin for key, 3 to 10 mm.";
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

// Common practice, no source: a trowel drags the grains of a coat thinner than about three of them. A rinzaffo is
// thrown, so that one grain will do.
void warn_of_grain(const Coat& coat, double mm, std::string_view whose, std::vector<std::string>& says) {
  const bool thrown = coat.name == "rinzaffo";
  const double least = (thrown ? 1 : 3) * coat.grain_mm;
  if (mm >= least - 1e-9) return;
  says.push_back(
      fmt::format("{} {} coat of {} is thinner than {} of its sand ({}): it cannot be laid. Take sand of at "
                  "most {}, or lay it thicker.",
                  whose, coat.name, millimetres(mm), thrown ? "one grain" : "three grains", millimetres(coat.grain_mm),
                  millimetres(thrown ? mm : mm / 3)));
}

// Warns of the intonaco's coats, each `scale` times as thick as the settings say. `whose`: "The", or whose own they
// are.
void warn_of_intonaco(const PlasterSettings& settings, double scale, std::string_view whose,
                      std::vector<std::string>& says) {
  double intonaco_mm = 0;
  for (const Coat& coat : settings.intonaco) intonaco_mm += coat.thickness_mm * scale;
  if (!(intonaco_mm > 0)) return;
  if (const std::string why = intonaco_warning(intonaco_mm); !why.empty())
    says.push_back(fmt::format("{} intonaco is {} thick in all: {}", whose, millimetres(intonaco_mm), why));
  if (intonaco_mm < 3) return;  // too thin anyway
  for (const Coat& coat : settings.intonaco) warn_of_grain(coat, coat.thickness_mm * scale, whose, says);
}

void warn_of_ground(const PlasterSettings& settings, std::vector<std::string>& says) {
  const GroundSettings& ground = settings.ground;
  for (const Coat* coat : {&ground.rinzaffo, &ground.arriccio}) {
    if (!(coat->thickness_mm > 0)) continue;
    warn_of_mix(*coat, settings, says);
    const std::string why =
        coat == &ground.arriccio ? arriccio_warning(coat->thickness_mm) : rinzaffo_warning(coat->thickness_mm);
    if (!why.empty()) says.push_back(fmt::format("The {} of {} {}", coat->name, millimetres(coat->thickness_mm), why));
    warn_of_grain(*coat, coat->thickness_mm, "The", says);
  }
}

void warn_of_damp_sand(const PlasterSettings& settings, std::vector<std::string>& says) {
  const SupplySettings& supply = settings.supply;
  const double more = bulking_pct(supply);
  if (more > 0)
    says.push_back(fmt::format(
        "The sand is damp and takes {} % more room{}: mixes are parts of dry sand, so fill {} L of the damp "
        "for every 10 L.",
        format_fixed(more, 0),
        supply.sand_bulking_pct ? ", as measured" : " (a usual figure: measure your own, fine sand bulks more)",
        format_fixed(10 + more / 10, 1)));
  if (supply.sand_moisture_pct > 0)
    says.push_back(
        fmt::format("The sand holds {} % of water: weigh {} kg of the damp for every 10 kg of dry, and "
                    "leave as much water out of the mortar.",
                    format_number(supply.sand_moisture_pct), format_fixed(10 + supply.sand_moisture_pct / 10, 2)));
}

}  // namespace

std::vector<std::string> mix_warnings(const PlasterSettings& settings) {
  std::vector<std::string> says;
  for (const Coat& coat : settings.intonaco) warn_of_mix(coat, settings, says);
  warn_of_intonaco(settings, 1, "The", says);
  warn_of_ground(settings, says);
  warn_of_damp_sand(settings, says);
  return says;
}

std::vector<std::string> own_coat_warnings(std::span<const Giornata> records, const PlasterSettings& settings) {
  double usual_mm = 0;
  for (const Coat& coat : settings.intonaco) usual_mm += coat.thickness_mm;
  std::vector<std::string> says;
  if (!(usual_mm > 0)) return says;  // refused by validate
  for (const Giornata& record : records)
    if (record.alive && record.intonaco_mm && *record.intonaco_mm > 0)
      warn_of_intonaco(settings, *record.intonaco_mm / usual_mm, fmt::format("{}: its own", plain_name(record)), says);
  return says;
}

}  // namespace pontata
