#include <fmt/format.h>

#include <cmath>

#include "engine/base/units.h"
#include "engine/chart/metric.h"
#include "engine/plaster/mortar.h"

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
Outcome check_hollows(const GiornataMeasure& giornata, const Giornata& record, double total_mm) {
  const double radius_mm = giornata.least_concave_radius_m * 1000;
  if (total_mm < radius_mm) return Done{};
  return Problem{fmt::format("{} mm of intonaco do not fit into a hollow of only {} mm radius",
                             format_number(std::round(total_mm * 100) / 100), format_fixed(radius_mm, 1)),
                 name_of(record),
                 "Make the coats thinner than the hollow's radius, or fill the hollow with arriccio first."};
}

// Materials for one coat once its mortar is known.
void share_out(CoatNeed& need, const Coat& coat, const PlasterSettings& settings) {
  const Materials m = materials_for(need.mortar_L, coat.mix, settings);
  need.putty_L = m.putty_L, need.sand_L = m.sand_L, need.putty_kg = m.putty_kg, need.sand_kg = m.sand_kg;
  const Mix mix = by_volume(coat.mix, settings);
  if (coat.mix.basis == MixBasis::by_weight)
    need.note = fmt::format("{}; litres found with {} kg/L for the putty and {} kg/L for the sand (1 : {} by volume)",
                            describe(coat.mix), format_number(settings.putty_kg_per_L),
                            format_number(settings.sand_kg_per_L), format_fixed(mix.sand / mix.putty, 2));
}

template <class Sum, class Part>
void add(Sum& sum, const Part& part) {
  sum.mortar_L += part.mortar_L;
  sum.putty_L += part.putty_L;
  sum.sand_L += part.sand_L;
  sum.putty_kg += part.putty_kg;
  sum.sand_kg += part.sand_kg;
}

}  // namespace

Materials materials_for(double mortar_L, const Mix& mix, const PlasterSettings& settings) {
  const Mix parts = by_volume(mix, settings);
  const double per_L = 1 / mortar_yield_L(parts.putty, parts.sand, settings.voids);
  Materials out;
  out.putty_L = mortar_L * parts.putty * per_L;
  out.sand_L = mortar_L * parts.sand * per_L;
  out.putty_kg = out.putty_L * settings.putty_kg_per_L;
  out.sand_kg = out.sand_L * settings.sand_kg_per_L;
  return out;
}

Outcome validate(const PlasterSettings& settings) {
  if (settings.intonaco.empty())
    return refuse("There is no coat of intonaco", "Set at least one coat's thickness and mix.");
  for (const Coat& coat : settings.intonaco) {
    if (!positive(coat.thickness_mm))
      return refuse(fmt::format("The {} coat has no thickness", coat.name), "Give it a thickness in mm, such as 4.");
    if (!positive(coat.mix.putty) || !positive(coat.mix.sand))
      return refuse(fmt::format("The {} coat's mix needs parts of both lime putty and sand", coat.name),
                    "Give a mix such as 1:1.5 volume.");
  }
  if (!at_least_zero(settings.voids) || settings.voids >= 1)
    return refuse("The voids of the sand must be a share from 0 to below 1", "A third, 0.333, is usual.");
  if (!positive(settings.putty_kg_per_L) || !positive(settings.sand_kg_per_L))
    return refuse("Putty and sand need a density above 0 kg/L",
                  "1.4 kg/L for putty and 1.45 kg/L for dry sand are usual.");
  if (!at_least_zero(settings.margin_mm) || !at_least_zero(settings.waste_pct))
    return refuse("The laying margin and the waste cannot be negative", "25 mm and 15 % are usual.");
  return Done{};
}

Result<GiornataNeed> plaster_need(const GiornataMeasure& giornata, const Giornata& record, double open_edge_m,
                                  const PlasterSettings& settings) {
  if (const auto sound = validate(settings); !sound) return sound.problem();
  if (record.intonaco_mm && !positive(*record.intonaco_mm))
    return Problem{"Its own intonaco has no thickness", name_of(record),
                   "Give a thickness in mm, or none to use the project's."};
  const double usual_mm = sum_mm(settings.intonaco);
  const double total_mm = record.intonaco_mm.value_or(usual_mm);
  if (const auto fits = check_hollows(giornata, record, total_mm); !fits) return fits.problem();

  GiornataNeed need{.id = giornata.id, .open_edge_m = open_edge_m, .coats = {}};
  double below_m = 0;  // what is already on the wall
  double below_L = 0;
  for (const Coat& coat : settings.intonaco) {
    CoatNeed one;
    one.name = coat.name;
    one.thickness_mm = coat.thickness_mm * total_mm / usual_mm;
    const double thickness_m = one.thickness_mm / 1000;
    below_m += thickness_m;
    const double to_here_L = 1000 * coat_volume(giornata.area_m2, giornata.bend_m, giornata.gauss, below_m);
    one.net_L = to_here_L - below_L;
    below_L = to_here_L;
    const double margin_L = 1000 * open_edge_m * (settings.margin_mm / 1000) * thickness_m;
    one.mortar_L = (one.net_L + margin_L) * (1 + settings.waste_pct / 100);
    share_out(one, coat, settings);
    add(need, one);
    need.coats.push_back(std::move(one));
  }
  return need;
}

PlasterTotals plaster_totals(std::span<const GiornataNeed> needs) {
  PlasterTotals totals;
  for (const GiornataNeed& need : needs) add(totals, need);
  return totals;
}

}  // namespace pontata
