#include "engine/plaster/purchase.h"

#include <functional>
#include <map>

#include "engine/plaster/batches.h"

namespace pontata {

namespace {

PurchaseLine line_of(std::string material, double litres, double kg, const SupplySettings& supply) {
  return {.material = std::move(material),
          .grain_mm = {},
          .litres = litres,
          .kg = kg,
          .dry_L = litres,
          .dry_kg = kg,
          .buckets = buckets(litres, supply)};
}

PurchaseLine sand_line(double grain_mm, const Materials& sand, double more, const SupplySettings& supply) {
  PurchaseLine line = line_of("sand", more * sand.damp_sand_L, more * sand.damp_sand_kg, supply);
  line.grain_mm = grain_mm;
  line.dry_L = more * sand.sand_L, line.dry_kg = more * sand.sand_kg;
  return line;
}

void add_lime(double putty_L, double putty_kg, const PlasterSettings& settings, Purchase& purchase) {
  if (!(putty_L > 0)) return;
  if (!settings.supply.slakes_own) {
    purchase.lines.push_back(line_of("lime putty", putty_L, putty_kg, settings.supply));
    return;
  }
  purchase.slaking = slaking_for(putty_L, settings);
  purchase.lines.push_back(line_of("quicklime", 0, purchase.slaking->quicklime_kg, settings.supply));
  purchase.lines.push_back(line_of("water", purchase.slaking->water_L(), purchase.slaking->water_L(), settings.supply));
}

}  // namespace

Purchase purchase_for(std::span<const CoatNeed> coats, const PlasterSettings& settings) {
  Materials all;
  std::map<double, Materials, std::greater<>> by_grain;
  for (const CoatNeed& coat : coats) {
    all += coat;
    if (coat.sand_L > 0) by_grain[coat.grain_mm] += coat;
  }
  const SupplySettings& supply = settings.supply;
  const double more = 1 + supply.reserve_pct / 100;
  Purchase purchase;
  add_lime(more * all.putty_L, more * all.putty_kg, settings, purchase);
  for (const auto& [grain_mm, sand] : by_grain) purchase.lines.push_back(sand_line(grain_mm, sand, more, supply));
  if (all.marble_L > 0)
    purchase.lines.push_back(line_of("marble dust", more * all.marble_L, more * all.marble_kg, supply));
  if (all.pozzolana_L > 0)
    purchase.lines.push_back(line_of("pozzolana", more * all.pozzolana_L, more * all.pozzolana_kg, supply));
  return purchase;
}

}  // namespace pontata
