// The keys of coats, mixes and what is bought.
#include "engine/document/setting_makers.h"

namespace pontata {

using namespace making;

namespace {

// Thickness, mix and grain of one coat; `at` is a generic lambda from Settings& to the Coat.
template <class At>
void add_coat(std::vector<Setting>& keys, const std::string& name, const std::string& of, double least_mm, At at) {
  keys.push_back(number(
      "coat." + name + ".mm", "mm", {least_mm, 50},
      "thickness of the " + of + (least_mm > 0 ? "" : "; 0: left out"), [at](auto& s) -> auto& {
        return at(s).thickness_mm;
      }));
  keys.push_back(written(
      "mix." + name, "",
      "lime putty : sand of the " + of + ", by volume or weight; with more a word each: 1 : 1 sand : 0.5 marble volume",
      [at](auto& s) -> auto& { return at(s).mix; }, [](const std::string& text) { return parse_mix(text); },
      format_mix));
  keys.push_back(number(
      "grain." + name + ".mm", "mm", {0.05, 20},
      "greatest grain of the sand of the " + of, [at](auto& s) -> auto& { return at(s).grain_mm; }));
}

void add_coats(std::vector<Setting>& keys, const Settings& settings) {
  for (std::size_t i = 0; i < settings.plaster.intonaco.size(); ++i) {
    const std::string& name = settings.plaster.intonaco[i].name;
    add_coat(
        keys, name, name + " coat of intonaco", 0.5, [i](auto& s) -> auto& { return s.plaster.intonaco[i]; });
  }
  add_coat(
      keys, "rinzaffo", "rinzaffo", 0, [](auto& s) -> auto& { return s.plaster.ground.rinzaffo; });
  add_coat(
      keys, "arriccio", "arriccio", 0, [](auto& s) -> auto& { return s.plaster.ground.arriccio; });
  keys.push_back(written(
      "surface.is", "",
      "what the wall as measured is: arriccio, its face, or bare wall, on which the ground comes first",
      [](auto& s) -> auto& { return s.plaster.ground.surface; }, read_surface, write_surface));
  keys.push_back(number(
      "keys.L", "L/m²", {0, 50}, "mortar that goes into joints and keys of the bare wall",
      [](auto& s) -> auto& { return s.plaster.ground.keys_L_per_m2; }));
  keys.push_back(number(
      "margin.mm", "mm", {0, 500}, "plaster laid beyond open edges, cut away in the evening",
      [](auto& s) -> auto& { return s.plaster.margin_mm; }));
  keys.push_back(number(
      "waste.pct", "%", {0, 200}, "plaster lost on the way to the wall",
      [](auto& s) -> auto& { return s.plaster.waste_pct; }));
}

void add_putty(std::vector<Setting>& keys) {
  keys.push_back(number(
      "putty.density", "kg/L", {1, 2}, "weight of lime putty, unless its solids are told",
      [](auto& s) -> auto& { return s.plaster.putty_kg_per_L; }));
  keys.push_back(maybe(
      "putty.solids", "", {0.2, 0.7}, "share of the putty's weight that is lime: its density follows from it",
      [](auto& s) -> auto& { return s.plaster.supply.putty_solids; }));
  keys.push_back(number(
      "putty.age", "months", {0, 600}, "younger putty is warned of; 3 at the least, 12 to 24 for fine work",
      [](auto& s) -> auto& { return s.plaster.supply.putty_age_months; }));
  keys.push_back(written(
      "slake.own", "", "yes: quicklime is bought and slaked instead of putty",
      [](auto& s) -> auto& { return s.plaster.supply.slakes_own; }, read_yes, write_yes));
  keys.push_back(number(
      "quicklime.purity", "", {0.3, 1}, "share of quicklime that is burnt lime",
      [](auto& s) -> auto& { return s.plaster.supply.quicklime_purity; }));
}

void add_aggregates(std::vector<Setting>& keys) {
  keys.push_back(number(
      "sand.voids", "", {0, 0.6}, "share of loose sand that is air", [](auto& s) -> auto& { return s.plaster.voids; }));
  keys.push_back(number(
      "sand.density", "kg/L", {0.8, 2.5}, "weight of loose dry sand",
      [](auto& s) -> auto& { return s.plaster.sand_kg_per_L; }));
  keys.push_back(number(
      "sand.moisture", "%", {0, 30}, "water in the sand as it is measured out, of its dry weight",
      [](auto& s) -> auto& { return s.plaster.supply.sand_moisture_pct; }));
  keys.push_back(maybe(
      "sand.bulking", "%", {0, 60},
      "how much more room damp sand takes, as you measured; none: found from its moisture",
      [](auto& s) -> auto& { return s.plaster.supply.sand_bulking_pct; }));
  keys.push_back(number(
      "marble.density", "kg/L", {0.5, 2.5}, "weight of loose marble dust",
      [](auto& s) -> auto& { return s.plaster.supply.marble_kg_per_L; }));
  keys.push_back(number(
      "marble.voids", "", {0, 0.7}, "share of loose marble dust that is air",
      [](auto& s) -> auto& { return s.plaster.supply.marble_voids; }));
  keys.push_back(number(
      "pozzolana.density", "kg/L", {0.3, 2}, "weight of loose pozzolana",
      [](auto& s) -> auto& { return s.plaster.supply.pozzolana_kg_per_L; }));
  keys.push_back(number(
      "pozzolana.voids", "", {0, 0.8}, "share of loose pozzolana that is air",
      [](auto& s) -> auto& { return s.plaster.supply.pozzolana_voids; }));
}

}  // namespace

void add_plaster_settings(std::vector<Setting>& keys, const Settings& settings) {
  add_coats(keys, settings);
  add_putty(keys);
  add_aggregates(keys);
  keys.push_back(number(
      "bucket.L", "L", {1, 50}, "what one bucket carries", [](auto& s) -> auto& { return s.plaster.supply.bucket_L; }));
  keys.push_back(number(
      "reserve.pct", "%", {0, 200}, "bought beyond what the plan needs",
      [](auto& s) -> auto& { return s.plaster.supply.reserve_pct; }));
  keys.push_back(number(
      "level.straightedge", "m", {0.5, 6}, "hollows and bumps shorter than this are levelled by the arriccio",
      [](auto& s) -> auto& { return s.plaster.level.straightedge_m; }));
  keys.push_back(number(
      "level.least.mm", "mm", {0, 50}, "thinnest arriccio of the levelling coat",
      [](auto& s) -> auto& { return s.plaster.level.least_mm; }));
}

}  // namespace pontata
