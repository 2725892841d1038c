// Lime putty and the quicklime it is slaked from.
//
// CaO + H2O -> Ca(OH)2. Molar masses from the standard atomic weights (IUPAC): 56.077, 18.015 and 74.092 g/mol, so 1 kg
// of burnt lime takes 0.3213 kg of water and gives 1.3213 kg of hydrate.
#pragma once

#include <span>
#include <string_view>

#include "engine/plaster/mortar.h"

namespace pontata {

inline constexpr double kHydrateOfLime = 1.3213;  // kg of Ca(OH)2 from 1 kg of CaO
inline constexpr double kHydrateDensity = 2.24;   // kg/L of Ca(OH)2

// Density of putty, kg/L, of which the share `solids` of the weight is lime: 1/(s/2.24 + 1 - s). 45 % gives 1.332, 50 %
// 1.383. The inverse of it.
double putty_density_of(double solids);
double putty_solids_of(double density_kg_per_L);
// Solids as told, else found from the density as entered.
double putty_solids(const PlasterSettings& settings);

struct Slaking {
  double putty_L = 0, putty_kg = 0;  // to be made
  double hydrate_kg = 0;             // lime in it
  double quicklime_kg = 0;           // to be bought, with what is not burnt lime in it
  double waste_kg = 0;               // what is not burnt lime and stays on the sieve
  double reaction_water_kg = 0;      // bound by the lime
  double putty_water_kg = 0;         // that stays in the putty
  double water_L() const { return reaction_water_kg + putty_water_kg; }
  double heat_MJ = 0;  // set free
};
// For so much putty. Steam that boils off and water that stands over the putty come on top. The heat: 1.16 MJ for 1 kg
// of burnt lime, from standard enthalpies of formation (-635.1, -285.8, -986.1 kJ/mol; from memory).
Slaking slaking_for(double putty_L, const PlasterSettings& settings);

// What everyone who slakes lime must be told, in full.
std::span<const std::string_view> slaking_cautions();

}  // namespace pontata
