// Mortar and what it is made of, as reports tell it.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "engine/plaster/mortar.h"

namespace pontata {

// aggregate_L and aggregate_kg: sand, marble dust and pozzolana together, dry and loose; sand_measured_L and _kg: the
// sand as it is measured out.
nlohmann::ordered_json materials_json(const Materials& materials);

// "12.0 L (16.8 kg) of lime putty and 18.0 L (26.1 kg) of sand"
std::string materials_words(const Materials& materials);

}  // namespace pontata
