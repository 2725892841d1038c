// Damp sand, lime putty and slaking.
#include <algorithm>
#include <catch2/catch.hpp>

#include "engine/plaster/putty.h"
#include "engine/plaster/sand.h"
#include "engine/plaster/slaking.h"

using namespace pontata;

TEST_CASE("damp sand takes more room, most of all at some five per cent, and none when flooded") {
  // Sources in engine/plaster/sand.h.
  CHECK(usual_bulking_pct(0) == 0);
  CHECK(usual_bulking_pct(4) == Approx(25));
  CHECK(usual_bulking_pct(2.5) == Approx(17.5));
  CHECK(usual_bulking_pct(30) == 0);
  double most = 0, at = 0;
  for (double w = 0; w <= 25; w += 0.25)
    if (usual_bulking_pct(w) > most) most = usual_bulking_pct(w), at = w;
  CHECK(at >= 4);
  CHECK(at <= 6);
  SupplySettings own;
  own.sand_moisture_pct = 4;
  CHECK(bulking_pct(own) == Approx(25));
  own.sand_bulking_pct = 18;
  CHECK(bulking_pct(own) == Approx(18));
}

TEST_CASE("moisture changes what is measured out, not what is in the mortar") {
  PlasterSettings dry, damp;
  damp.supply.sand_moisture_pct = 4;
  const Materials a = materials_for(100, {1, 2}, dry), b = materials_for(100, {1, 2}, damp);
  CHECK(b.sand_L == a.sand_L);
  CHECK(b.sand_kg == a.sand_kg);
  CHECK(b.putty_L == a.putty_L);
  CHECK(a.damp_sand_L == a.sand_L);
  CHECK(b.damp_sand_L == Approx(1.25 * a.sand_L));
  CHECK(b.damp_sand_kg == Approx(1.04 * a.sand_kg));
  CHECK(wet_kg(b) - wet_kg(a) == Approx(0.04 * a.sand_kg));
  const auto says = mix_warnings(damp);
  CHECK(std::any_of(says.begin(), says.end(), [](auto& w) { return w.find("fill 12.5 L") != std::string::npos; }));
}

TEST_CASE("putty's density follows from its solids, and back") {
  PlasterSettings s;
  CHECK(putty_density(s) == 1.40);
  s.supply.putty_solids = 0.45;
  CHECK(putty_density(s) == Approx(1.332).margin(5e-4));
  for (double solids = 0.2; solids < 0.7; solids += 0.05)
    CHECK(putty_solids_of(putty_density_of(solids)) == Approx(solids));
  const Materials by_weight = materials_for(50, {1, 2, MixBasis::by_weight}, s);
  CHECK(by_weight.sand_kg == Approx(2 * by_weight.putty_kg));
  CHECK(by_weight.putty_kg == Approx(by_weight.putty_L * putty_density_of(0.45)));
}

TEST_CASE("slaking loses no weight") {
  PlasterSettings s;
  s.supply.putty_solids = 0.48;
  s.supply.quicklime_purity = 0.9;
  const Slaking sum = slaking_for(200, s);
  CHECK(sum.quicklime_kg + sum.water_L() == Approx(sum.putty_kg + sum.waste_kg));
  CHECK(sum.waste_kg == Approx(0.1 * sum.quicklime_kg));
  CHECK(sum.hydrate_kg == Approx(0.48 * sum.putty_kg));
  CHECK(slaking_cautions().size() > 3);
}

TEST_CASE("a batch of putty is ripe when its months are full") {
  const PuttyBatch batch{"A", {2026, 1, 31}, 100, ""};
  CHECK(putty_age_months(batch, {2026, 2, 27}) == 0);
  CHECK(putty_age_months(batch, {2026, 2, 28}) == 1);
  CHECK(putty_age_months(batch, {2027, 1, 30}) == 11);
  CHECK(putty_age_months(batch, {2027, 1, 31}) == 12);
  CHECK(putty_age_months(batch, {2026, 1, 30}) == -1);
  CHECK(ripe_on(batch, 12) == Date{2027, 1, 31});
  CHECK(ripe_on(batch, 1) == Date{2026, 2, 28});
  CHECK(ripe_on(batch, 0.5) == Date{2026, 2, 16});  // 15.22 days, the sixteenth
  CHECK(batch_named(std::span(&batch, 1), "A") == &batch);
  CHECK(batch_named(std::span(&batch, 1), "B") == nullptr);
}

TEST_CASE("young putty is named with the day on which it is ripe") {
  const std::vector<PuttyBatch> tubs{{"old", {2025, 3, 1}, 80, ""}, {"new", {2026, 11, 2}, 40, ""}};
  const auto says = putty_warnings(tubs, 100, {2027, 5, 3}, 12);
  REQUIRE(says.size() == 1);
  CHECK(says[0].find("“new”, slaked 2026-11-02, is 6 months old on 2027-05-03") != std::string::npos);
  CHECK(says[0].find("ripe on 2027-11-02") != std::string::npos);
  CHECK(putty_warnings(tubs, 100, {2027, 11, 2}, 12).empty());
  const auto little = putty_warnings(tubs, 150, {2027, 11, 2}, 12);
  REQUIRE(little.size() == 1);
  CHECK(little[0].find("30 L are still to be laid down") != std::string::npos);
  CHECK(putty_warnings({}, 150, {2027, 11, 2}, 12).empty());
}
