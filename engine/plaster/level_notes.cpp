#include <fmt/format.h>

#include <cmath>

#include "engine/base/units.h"
#include "engine/plaster/levelling.h"

namespace pontata {

namespace {

constexpr double kLayer = 0.012;  // common practice, no source: in layers above 12 mm
constexpr double kDeep = 0.020;   // technical dictionary entry "Arriccio", teknoring.com: 10-15 mm; in practice to 20

std::string millimetres(double m) { return format_fixed(1000 * m, 0) + " mm"; }

}  // namespace

std::vector<std::string> level_notes(const LevelCoat& coat, const LevelSettings& settings,
                                     std::optional<bool> old_plaster) {
  std::vector<std::string> says;
  if (settings.least_mm > 0 && settings.least_mm < 5)
    says.push_back(fmt::format("A least thickness of {} mm is thin for an arriccio: 10 to 15 mm is common.",
                               format_number(settings.least_mm)));
  if (coat.greatest_m > kLayer)
    says.push_back(
        fmt::format("Up to {} deep: lay it in layers of at most 12 mm ({} where it is deepest), each keyed "
                    "and firm before the next.",
                    millimetres(coat.greatest_m), static_cast<int>(std::ceil(coat.greatest_m / kLayer))));
  if (coat.greatest_m > kDeep)
    says.push_back(
        "Where it is deeper than 20 mm fill the hollows first and let the filling stiffen, then lay the whole true.");
  if (!coat.high_spots.empty()) {
    says.push_back(fmt::format(
        "{} high {} would leave less than {} mm of arriccio. Hack back only if a conservator and the structure allow "
        "it; else lay the whole thicker by raising the least thickness.",
        coat.high_spots.size(), coat.high_spots.size() == 1 ? "spot" : "spots", format_number(settings.least_mm)));
    if (old_plaster.value_or(true))
      says.push_back(std::string(old_plaster ? "" : "If old plaster or paint lies here: ") +
                     (old_plaster ? "Old" : "old") +
                     " plaster or paint must not be wetted, hacked or keyed until a conservator has tested it and "
                     "consent is given; it may also hold lead.");
  } else if (old_plaster.value_or(false)) {
    says.push_back(
        "Old plaster or paint lies here: do not wet, hack or key it until a conservator has tested it and consent is "
        "given; it may also hold lead.");
  }
  says.push_back(fmt::format("The mortar weighs about {} kg: keep to the load on the scaffold's tag.",
                             format_fixed(1000 * coat.total_m3 * kMortarDensity, 0)));
  return says;
}

}  // namespace pontata
