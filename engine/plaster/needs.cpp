#include <fmt/format.h>

#include <cmath>
#include <tuple>

#include "engine/base/units.h"
#include "engine/plaster/ground.h"
#include "engine/plaster/sand.h"

namespace pontata {

namespace {

bool positive(double value) { return std::isfinite(value) && value > 0; }
bool at_least_zero(double value) { return std::isfinite(value) && value >= 0; }

Problem refuse(std::string what, std::string remedy) { return {std::move(what), "plaster", std::move(remedy)}; }

double sum_mm(std::span<const Coat> coats) {
  double mm = 0;
  for (const Coat& coat : coats) mm += coat.thickness_mm;
  return mm;
}

std::string name_of(const Giornata& record) {
  const std::string number = "giornata " + (record.number > 0 ? label_of(record) : std::to_string(record.id.value));
  return record.name.empty() ? number : fmt::format("{} ({})", number, record.name);
}

// Parallel surfaces fold where they reach the centre of curvature of a hollow.
Outcome check_hollows(const GiornataMeasure& giornata, const Giornata& record, double below_mm, double intonaco_mm) {
  const double radius_mm = giornata.least_concave_radius_m * 1000;
  if (below_mm + intonaco_mm < radius_mm) return Done{};
  const std::string ground =
      below_mm > 0 ? fmt::format(" on {} mm of ground", format_number(std::round(below_mm * 100) / 100)) : "";
  return Problem{fmt::format("{} mm of intonaco{} do not fit into a hollow of only {} mm radius",
                             format_number(std::round(intonaco_mm * 100) / 100), ground, format_fixed(radius_mm, 1)),
                 name_of(record),
                 "Make the coats thinner than the hollow's radius, or fill the hollow with arriccio first."};
}

Outcome check_mix(const Coat& coat) {
  const Mix& mix = coat.mix;
  if (positive(mix.putty) && at_least_zero(mix.sand) && at_least_zero(mix.marble) && at_least_zero(mix.pozzolana) &&
      positive(aggregates(mix)))
    return Done{};
  return refuse(fmt::format("The {} coat's mix needs parts of both lime putty and sand", coat.name),
                "Give a mix such as 1:1.5 volume.");
}

Outcome check_coats(const PlasterSettings& settings) {
  if (settings.intonaco.empty())
    return refuse("There is no coat of intonaco", "Set at least one coat's thickness and mix.");
  for (const Coat& coat : settings.intonaco) {
    if (!positive(coat.thickness_mm))
      return refuse(fmt::format("The {} coat has no thickness", coat.name), "Give it a thickness in mm, such as 4.");
    if (const auto sound = check_mix(coat); !sound) return sound;
  }
  for (const Coat* coat : {&settings.ground.rinzaffo, &settings.ground.arriccio}) {
    if (!at_least_zero(coat->thickness_mm))
      return refuse(fmt::format("The {} cannot have less than no thickness", coat->name),
                    "Give it a thickness in mm, or 0 to leave it out.");
    if (const auto sound = check_mix(*coat); !sound) return sound;
  }
  return Done{};
}

Outcome check_supply(const SupplySettings& supply) {
  if (!positive(supply.marble_kg_per_L) || !positive(supply.pozzolana_kg_per_L))
    return refuse("Marble dust and pozzolana need a density above 0 kg/L", "1.5 and 1 kg/L are usual.");
  for (const double voids : {supply.marble_voids, supply.pozzolana_voids})
    if (!at_least_zero(voids) || voids >= 1)
      return refuse("The voids of marble dust and pozzolana must be a share from 0 to below 1", "0.4 is usual.");
  if (supply.putty_solids && !(*supply.putty_solids > 0 && *supply.putty_solids < 1))
    return refuse("The solids of the putty must be a share of its weight between 0 and 1", "0.45 to 0.5 is usual.");
  if (!positive(supply.quicklime_purity) || supply.quicklime_purity > 1)
    return refuse("The purity of the quicklime must be a share above 0 and up to 1", "0.95 is usual.");
  if (!at_least_zero(supply.sand_moisture_pct) || !at_least_zero(supply.sand_bulking_pct.value_or(0)) ||
      !at_least_zero(supply.reserve_pct) || !at_least_zero(supply.putty_age_months))
    return refuse("Moisture, bulking, reserve and the putty's age cannot be negative", "0 is the least.");
  if (!positive(supply.bucket_L)) return refuse("The bucket holds nothing", "12 L is usual.");
  return Done{};
}

}  // namespace

Materials& Materials::operator+=(const Materials& o) {
  putty_L += o.putty_L, putty_kg += o.putty_kg;
  sand_L += o.sand_L, sand_kg += o.sand_kg;
  marble_L += o.marble_L, marble_kg += o.marble_kg;
  pozzolana_L += o.pozzolana_L, pozzolana_kg += o.pozzolana_kg;
  damp_sand_L += o.damp_sand_L, damp_sand_kg += o.damp_sand_kg;
  return *this;
}

Materials materials_for(double mortar_L, const Mix& mix, const PlasterSettings& settings) {
  const Mix parts = by_volume(mix, settings);
  const double litres = mortar_L / mortar_yield_L(parts, settings);
  const SupplySettings& supply = settings.supply;
  Materials out;
  out.putty_L = litres * parts.putty;
  out.sand_L = litres * parts.sand;
  out.marble_L = litres * parts.marble;
  out.pozzolana_L = litres * parts.pozzolana;
  out.putty_kg = out.putty_L * putty_density(settings);
  out.sand_kg = out.sand_L * settings.sand_kg_per_L;
  out.marble_kg = out.marble_L * supply.marble_kg_per_L;
  out.pozzolana_kg = out.pozzolana_L * supply.pozzolana_kg_per_L;
  out.damp_sand_L = out.sand_L * (1 + bulking_pct(supply) / 100);
  out.damp_sand_kg = out.sand_kg * (1 + supply.sand_moisture_pct / 100);
  return out;
}

CoatNeed coat_in_place(const Coat& coat, double thickness_m, double volume_m3) {
  CoatNeed need;
  need.name = coat.name;
  need.thickness_mm = 1000 * thickness_m;
  need.net_L = 1000 * volume_m3;
  need.mix = coat.mix;
  need.grain_mm = coat.grain_mm;
  return need;
}

void fill_materials(CoatNeed& coat, const PlasterSettings& settings) {
  static_cast<Materials&>(coat) = materials_for(coat.mortar_L, coat.mix, settings);
  if (coat.mix.basis != MixBasis::by_weight) return;
  const Mix mix = by_volume(coat.mix, settings);
  const SupplySettings& supply = settings.supply;
  std::string densities = format_number(std::round(1000 * putty_density(settings)) / 1000) + " kg/L for the putty";
  for (const auto& [part, density, name] : {std::tuple{mix.sand, settings.sand_kg_per_L, "sand"},
                                            {mix.marble, supply.marble_kg_per_L, "marble dust"},
                                            {mix.pozzolana, supply.pozzolana_kg_per_L, "pozzolana"}})
    if (part > 0) densities += fmt::format(" and {} kg/L for the {}", format_number(density), name);
  coat.note = fmt::format("{}; litres found with {} (1 : {} by volume)", describe(coat.mix), densities,
                          format_fixed(aggregates(mix) / mix.putty, 2));
}

double wet_kg(const Materials& m) { return m.putty_kg + m.damp_sand_kg + m.marble_kg + m.pozzolana_kg; }

Outcome validate(const PlasterSettings& settings) {
  if (const auto sound = check_coats(settings); !sound) return sound;
  if (!at_least_zero(settings.voids) || settings.voids >= 1)
    return refuse("The voids of the sand must be a share from 0 to below 1", "A third, 0.333, is usual.");
  if (!positive(settings.putty_kg_per_L) || !positive(settings.sand_kg_per_L))
    return refuse("Putty and sand need a density above 0 kg/L",
                  "1.4 kg/L for putty and 1.45 kg/L for dry sand are usual.");
  if (!at_least_zero(settings.margin_mm) || !at_least_zero(settings.waste_pct) ||
      !at_least_zero(settings.ground.keys_L_per_m2))
    return refuse("The laying margin, the keys and the waste cannot be negative", "25 mm and 15 % are usual.");
  return check_supply(settings.supply);
}

Result<GiornataNeed> plaster_need(const GiornataMeasure& giornata, const Giornata& record, double open_edge_m,
                                  const PlasterSettings& settings) {
  if (const auto sound = validate(settings); !sound) return sound.problem();
  if (record.intonaco_mm && !positive(*record.intonaco_mm))
    return Problem{"Its own intonaco has no thickness", name_of(record),
                   "Give a thickness in mm, or none to use the project's."};
  const double usual_mm = sum_mm(settings.intonaco);
  const double total_mm = record.intonaco_mm.value_or(usual_mm);
  double from_m = ground_before_m(settings);
  if (const auto fits = check_hollows(giornata, record, 1000 * from_m, total_mm); !fits) return fits.problem();

  GiornataNeed need;
  need.id = giornata.id;
  need.open_edge_m = open_edge_m;
  const PatchTerms patch = terms_of(giornata);
  for (const Coat& coat : settings.intonaco) {
    const double thickness_m = coat.thickness_mm / 1000 * total_mm / usual_mm;
    CoatNeed one = coat_in_place(coat, thickness_m, layer_volume(patch, from_m, from_m + thickness_m));
    from_m += thickness_m;
    const double margin_L = 1000 * open_edge_m * (settings.margin_mm / 1000) * thickness_m;
    one.mortar_L = (one.net_L + margin_L) * (1 + settings.waste_pct / 100);
    fill_materials(one, settings);
    need.mortar_L += one.mortar_L;
    need += one;
    need.coats.push_back(std::move(one));
  }
  return need;
}

PlasterTotals plaster_totals(std::span<const GiornataNeed> needs) {
  PlasterTotals totals;
  for (const GiornataNeed& need : needs) {
    totals.mortar_L += need.mortar_L;
    totals += need;
  }
  return totals;
}

}  // namespace pontata
