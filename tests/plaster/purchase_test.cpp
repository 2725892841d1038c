#include "engine/plaster/purchase.h"

#include <catch2/catch.hpp>

#include "engine/plaster/batches.h"

using namespace pontata;

namespace {

CoatNeed coat(double mortar_L, const Mix& mix, double grain_mm, const PlasterSettings& settings) {
  CoatNeed need = coat_in_place({"one", 5, mix, grain_mm}, 0.005, 0);
  need.mortar_L = mortar_L;
  fill_materials(need, settings);
  return need;
}

const PurchaseLine* line(const Purchase& purchase, const std::string& material, std::optional<double> grain = {}) {
  for (const PurchaseLine& one : purchase.lines)
    if (one.material == material && (!grain || one.grain_mm == grain)) return &one;
  return nullptr;
}

}  // namespace

TEST_CASE("sand is bought by the size of its grains, everything with the reserve") {
  PlasterSettings s;
  s.supply.reserve_pct = 20;
  s.supply.sand_moisture_pct = 4;
  const std::vector<CoatNeed> coats{coat(70, {1, 2}, 3, s), coat(35, {1, 2}, 3, s), coat(50, {1, 1}, 0.5, s),
                                    coat(16.6, {.putty = 1, .sand = 0, .marble = 1}, 0.5, s)};
  const Purchase buy = purchase_for(coats, s);
  REQUIRE(buy.lines.size() == 4);
  CHECK(line(buy, "sand", 3.0)->dry_L == Approx(1.2 * 90));  // 1:2 gives 2.333 L of mortar for 2 L of sand
  CHECK(line(buy, "sand", 3.0)->litres == Approx(1.2 * 90 * 1.25));
  CHECK(line(buy, "sand", 3.0)->kg == Approx(1.2 * 90 * 1.45 * 1.04));
  CHECK(line(buy, "sand", 0.5)->dry_L == Approx(1.2 * 30));
  CHECK(buy.lines[1].grain_mm == 3.0);  // the coarsest first
  CHECK(line(buy, "marble dust")->litres == Approx(1.2 * coats[3].marble_L));
  CHECK(line(buy, "pozzolana") == nullptr);
  double putty = 0;
  for (const CoatNeed& one : coats) putty += one.putty_L;
  CHECK(line(buy, "lime putty")->litres == Approx(1.2 * putty));
  CHECK(line(buy, "lime putty")->buckets == Approx(0.1 * putty));  // of 12 L
  CHECK_FALSE(buy.slaking);
}

TEST_CASE("who slakes buys quicklime, and weighs water in") {
  PlasterSettings s;
  s.supply.slakes_own = true;
  s.supply.putty_solids = 0.5;
  s.supply.reserve_pct = 0;
  const std::vector<CoatNeed> coats{coat(100, {1, 2}, 1, s)};
  const Purchase buy = purchase_for(coats, s);
  REQUIRE(buy.slaking);
  CHECK(line(buy, "lime putty") == nullptr);
  CHECK(buy.slaking->putty_L == Approx(coats[0].putty_L));
  CHECK(line(buy, "quicklime")->kg == Approx(coats[0].putty_kg * 0.5 / kHydrateOfLime / 0.95));
  CHECK(line(buy, "water")->litres == Approx(buy.slaking->water_L()));
}

TEST_CASE("nothing to lay, nothing to buy") {
  CHECK(purchase_for({}, PlasterSettings{}).lines.empty());
  PlasterSettings s;
  s.supply.slakes_own = true;
  CHECK_FALSE(purchase_for({}, s).slaking);
}

TEST_CASE("buckets to carry are whole, a trace above a full one does not count") {
  SupplySettings supply;
  CHECK(whole_buckets(0, supply) == 0);
  CHECK(whole_buckets(12, supply) == 1);
  CHECK(whole_buckets(12 + 1e-9, supply) == 1);
  CHECK(whole_buckets(12.1, supply) == 2);
  PlasterSettings s;
  s.supply.sand_moisture_pct = 4;
  const std::string words = batch_words(coat(16.6667, {1, 1}, 0.5, s), s.supply);
  CHECK(words ==
        "0.8 buckets (10.0 L, 14.0 kg) of lime putty, 1.0 buckets (12.5 L, 15.1 kg) of damp sand up to 0.5 mm");
}
