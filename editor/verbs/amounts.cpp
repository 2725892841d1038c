#include "editor/verbs/amounts.h"

#include <fmt/format.h>

#include <tuple>

#include "engine/base/units.h"

namespace pontata {

nlohmann::ordered_json materials_json(const Materials& m) {
  return {{"putty_L", m.putty_L},
          {"aggregate_L", m.sand_L + m.marble_L + m.pozzolana_L},
          {"putty_kg", m.putty_kg},
          {"aggregate_kg", m.sand_kg + m.marble_kg + m.pozzolana_kg},
          {"sand_L", m.sand_L},
          {"sand_kg", m.sand_kg},
          {"sand_measured_L", m.damp_sand_L},
          {"sand_measured_kg", m.damp_sand_kg},
          {"marble_dust_L", m.marble_L},
          {"marble_dust_kg", m.marble_kg},
          {"pozzolana_L", m.pozzolana_L},
          {"pozzolana_kg", m.pozzolana_kg},
          {"wet_kg", wet_kg(m)}};
}

std::string materials_words(const Materials& m) {
  std::string text;
  for (const auto& [litres, kg, name] : {std::tuple{m.putty_L, m.putty_kg, "lime putty"},
                                         {m.sand_L, m.sand_kg, "sand"},
                                         {m.marble_L, m.marble_kg, "marble dust"},
                                         {m.pozzolana_L, m.pozzolana_kg, "pozzolana"}})
    if (litres > 0 || text.empty())
      text += fmt::format("{}{} L ({} kg) of {}", text.empty() ? "" : " and ", format_fixed(litres, 1),
                          format_fixed(kg, 1), name);
  return text;
}

}  // namespace pontata
