#include "engine/plaster/slaking.h"

#include <array>

namespace pontata {

namespace {

constexpr double kHeat = 1.16;  // MJ/kg of CaO

// Safety data sheets of quicklime and calcium hydroxide (H315, H318, H335); lime into water and never water onto lime:
// "Building with Straw Bales", slaking, and common practice.
constexpr std::array<std::string_view, 7> kCautions{
    "Quicklime is violent with water: it boils, spits and can burst its vessel. Danger: irritates skin (H315), serious "
    "eye damage (H318), may irritate the airways (H335).",
    "Add the lime to the water, a little at a time, stirring. Never pour water onto quicklime, never close the vessel.",
    "Sealed goggles and face shield, gauntlets, boots, covered arms and legs. In the eye: rinse at once for 20 minutes "
    "and get medical help. Running water or an eyewash within reach before you begin; never work alone.",
    "Out of doors or under a strong extract, downwind of nobody. Do not breathe the dust or the steam.",
    "A steel vessel on bare ground, filled to a third at most, away from wood, straw, fuel and everything that burns: "
    "the heat can set it alight. Plastic softens.",
    "Keep quicklime dry and shut, away from acids and aluminium, out of reach of children and animals. Damp sacks heat "
    "up and burst.",
    "Let it cool fully before you sieve it. What stays on the sieve may still slake: keep it wet. Local codes and the "
    "maker's safety data sheet come first."};

}  // namespace

double putty_density_of(double solids) { return 1 / (solids / kHydrateDensity + 1 - solids); }

double putty_solids_of(double density_kg_per_L) { return (1 - 1 / density_kg_per_L) / (1 - 1 / kHydrateDensity); }

double putty_density(const PlasterSettings& settings) {
  return settings.supply.putty_solids ? putty_density_of(*settings.supply.putty_solids) : settings.putty_kg_per_L;
}

double putty_solids(const PlasterSettings& settings) {
  return settings.supply.putty_solids.value_or(putty_solids_of(settings.putty_kg_per_L));
}

Slaking slaking_for(double putty_L, const PlasterSettings& settings) {
  const double solids = putty_solids(settings);
  Slaking out{.putty_L = putty_L, .putty_kg = putty_L * putty_density(settings)};
  out.hydrate_kg = out.putty_kg * solids;
  out.putty_water_kg = out.putty_kg - out.hydrate_kg;
  const double lime_kg = out.hydrate_kg / kHydrateOfLime;
  out.reaction_water_kg = out.hydrate_kg - lime_kg;
  out.quicklime_kg = lime_kg / settings.supply.quicklime_purity;
  out.waste_kg = out.quicklime_kg - lime_kg;
  out.heat_MJ = lime_kg * kHeat;
  return out;
}

std::span<const std::string_view> slaking_cautions() { return kCautions; }

}  // namespace pontata
