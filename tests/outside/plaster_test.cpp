#include <catch2/catch.hpp>

#include "engine/plaster/slaking.h"

using namespace pontata;

TEST_CASE("mortar from putty and sand at the three usual ratios") {
  // Voids of sand about 1/3 of its bulk: "Building Construction V2", Proportions of Materials, section 223; lean limit
  // "mortar equals sand": Building Conservation Directory 2022, p. 53. Values by hand from max(S, S (1 - v) + P).
  CHECK(mortar_yield_L(1, 1, 1.0 / 3) == Approx(1.667).margin(5e-4));
  CHECK(mortar_yield_L(1, 2, 1.0 / 3) == Approx(2.333).margin(5e-4));
  CHECK(mortar_yield_L(1, 3, 1.0 / 3) == Approx(3.0).margin(5e-4));
}

TEST_CASE("a bucket of 20 L of putty weighs about 28 kg") {
  // roseofjericho.co.uk, "Superfine Lime Putty".
  CHECK(20 * PlasterSettings{}.putty_kg_per_L == Approx(28).epsilon(0.01));
}

TEST_CASE("a tonne of lime mortar covers about 50 m2 at 10 mm and 62 m2 at 8 mm") {
  // A lime maker's technical page, "External Lime Putty Renders" (1 : 3 by volume); our densities are means of ranges,
  // so within 8 %.
  const auto spread = [](double mm) {
    GiornataMeasure wall;
    wall.id = GiornataId{1};
    wall.area_m2 = 1;
    PlasterSettings settings;
    settings.intonaco = {{"render", mm, {1, 3}}};
    settings.waste_pct = 0;
    const auto need = plaster_need(wall, Giornata{}, 0, settings);
    REQUIRE(need.ok());
    return 1000 / (need->putty_kg + need->sand_kg);
  };
  CHECK(spread(10) == Approx(50).epsilon(0.08));
  CHECK(spread(8) == Approx(62).epsilon(0.08));
}

TEST_CASE("the usual sand lies within the range of dry loose sand") {
  // Reference tables: 80 to 100 lb/ft3, 1281 to 1602 kg/m3.
  CHECK(PlasterSettings{}.sand_kg_per_L > 1.281);
  CHECK(PlasterSettings{}.sand_kg_per_L < 1.602);
}

TEST_CASE("putty of 45 and 50 per cent lime weighs 1.332 and 1.383 kg/L") {
  // Ca(OH)2 of 2.24 g/cm3 (CRC Handbook of Chemistry and Physics, from memory) in water: computed by hand.
  CHECK(putty_density_of(0.45) == Approx(1.332).margin(5e-4));
  CHECK(putty_density_of(0.50) == Approx(1.383).margin(5e-4));
}

TEST_CASE("burnt lime gains 32 per cent in weight by slaking") {
  // CaO + H2O -> Ca(OH)2. Standard atomic weights (IUPAC): Ca 40.078, O 15.999, H 1.008.
  const double cao = 40.078 + 15.999, hydrate = 40.078 + 2 * (15.999 + 1.008);
  CHECK(hydrate / cao == Approx(1.3213).margin(5e-5));
  CHECK(kHydrateOfLime == Approx(hydrate / cao).margin(5e-5));
  PlasterSettings settings;
  settings.supply.putty_solids = 0.5;
  settings.supply.quicklime_purity = 1;
  // 1 kg of burnt lime makes 1.3213 kg of hydrate, that is 2.6426 kg of putty.
  const Slaking sum = slaking_for(2.6426 / putty_density_of(0.5), settings);
  CHECK(sum.quicklime_kg == Approx(1).epsilon(1e-6));
  CHECK(sum.reaction_water_kg == Approx(0.3213).epsilon(1e-4));
  CHECK(sum.putty_water_kg == Approx(1.3213).epsilon(1e-4));
}
