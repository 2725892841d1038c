#include <catch2/catch.hpp>
#include <limits>
#include <numbers>

#include "engine/plaster/mortar.h"

using namespace pontata;

namespace {

constexpr double kPi = std::numbers::pi;

GiornataMeasure flat_patch(double area) {
  GiornataMeasure m;
  m.id = GiornataId{1};
  m.area_m2 = area;
  return m;
}

// The whole inside of a hemisphere of radius r: area 2 pi r^2, offsets 2 pi (r - s)^2.
GiornataMeasure hemisphere(double r) {
  GiornataMeasure m = flat_patch(2 * kPi * r * r);
  m.bend_m = -4 * kPi * r;
  m.gauss = 2 * kPi;
  m.least_concave_radius_m = r;
  return m;
}

Giornata record(std::optional<double> own_mm = std::nullopt) {
  Giornata g;
  g.id = GiornataId{1};
  g.number = 3;
  g.intonaco_mm = own_mm;
  return g;
}

PlasterSettings coats(std::vector<Coat> list, double margin_mm = 0, double waste_pct = 0) {
  PlasterSettings s;
  s.intonaco = std::move(list);
  s.margin_mm = margin_mm;
  s.waste_pct = waste_pct;
  return s;
}

}  // namespace

TEST_CASE("a flat patch takes area times thickness") {
  const auto need = plaster_need(flat_patch(2), record(), 0, coats({{"one", 5, {1, 1}}}));
  REQUIRE(need.ok());
  CHECK(need->coats.at(0).net_L == Approx(10));
  CHECK(need->mortar_L == Approx(10));
  CHECK(need->putty_L == Approx(10 / (5.0 / 3.0)));  // 1:1 yields 1.667, CHECKS of mixes_test
  CHECK(need->sand_L == Approx(need->putty_L));
  CHECK(need->putty_kg == Approx(need->putty_L * 1.40));  // roseofjericho.co.uk, "Superfine Lime Putty"
}

TEST_CASE("a coat inside a hemisphere is a shell, not area times thickness") {
  // Shell between spheres of radius 3 and 2.985: 0.8439959 m3 (closed form); flat it would be 0.8482300.
  const auto need = plaster_need(hemisphere(3), record(), 0, coats({{"one", 15, {1, 2.5}}}));
  REQUIRE(need.ok());
  CHECK(need->coats.at(0).net_L == Approx(843.9959).epsilon(1e-6));
}

TEST_CASE("the second coat lies on the first one's surface") {
  const auto two = plaster_need(hemisphere(0.5), record(), 0, coats({{"first", 10, {1, 1}}, {"final", 5, {1, 1}}}));
  REQUIRE(two.ok());
  const auto shell = [](double outer, double inner) {
    return 1000 * 2 * kPi / 3 * (outer * outer * outer - inner * inner * inner);
  };
  CHECK(two->coats.at(0).net_L == Approx(shell(0.5, 0.49)));
  CHECK(two->coats.at(1).net_L == Approx(shell(0.49, 0.485)));
}

TEST_CASE("its own thickness is shared out in the coats' proportion") {
  const auto need = plaster_need(flat_patch(1), record(14), 0, coats({{"first", 4, {1, 1.5}}, {"final", 3, {1, 1}}}));
  REQUIRE(need.ok());
  CHECK(need->coats.at(0).thickness_mm == Approx(8));
  CHECK(need->coats.at(1).thickness_mm == Approx(6));
  CHECK(need->mortar_L == Approx(14));
}

TEST_CASE("the margin lies on open edges only, and waste comes on top") {
  const auto closed = plaster_need(flat_patch(1), record(), 0, coats({{"one", 8, {1, 1}}}, 25, 0));
  const auto open = plaster_need(flat_patch(1), record(), 3, coats({{"one", 8, {1, 1}}}, 25, 0));
  const auto wasted = plaster_need(flat_patch(1), record(), 3, coats({{"one", 8, {1, 1}}}, 25, 15));
  REQUIRE(closed.ok());
  REQUIRE(open.ok());
  REQUIRE(wasted.ok());
  CHECK(closed->mortar_L == Approx(8));
  CHECK(open->mortar_L == Approx(8 + 3 * 0.025 * 8));
  CHECK(open->coats.at(0).net_L == Approx(8));
  CHECK(wasted->mortar_L == Approx(1.15 * open->mortar_L));
}

TEST_CASE("materials of the mortar add up to it by the yield formula") {
  const auto need = plaster_need(flat_patch(3.3), record(), 2, PlasterSettings{});
  REQUIRE(need.ok());
  double putty = 0;
  for (const CoatNeed& c : need->coats) {
    CHECK(mortar_yield_L(c.putty_L, c.sand_L, 1.0 / 3.0) == Approx(c.mortar_L));
    putty += c.putty_L;
  }
  CHECK(need->putty_L == Approx(putty));
}

TEST_CASE("a mix by weight keeps its weights and says how its litres were found") {
  const auto need = plaster_need(flat_patch(1), record(), 0, coats({{"one", 5, {1, 2, MixBasis::by_weight}}}));
  REQUIRE(need.ok());
  CHECK(need->sand_kg == Approx(2 * need->putty_kg));
  CHECK(need->coats.at(0).note.find("by weight") != std::string::npos);
  const auto volume = plaster_need(flat_patch(1), record(), 0, coats({{"one", 5, {1, 2}}}));
  REQUIRE(volume.ok());
  CHECK(volume->sand_L == Approx(2 * volume->putty_L));
  CHECK(volume->coats.at(0).note.empty());
}

TEST_CASE("a coat that does not fit into a hollow is refused with the giornata's number") {
  GiornataMeasure m = flat_patch(1);
  m.least_concave_radius_m = 0.012;
  const auto refused = plaster_need(m, record(), 0, coats({{"one", 15, {1, 1}}}));
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.problem().message().find("giornata 3") != std::string::npos);
  CHECK(refused.problem().message().find("12.0 mm") != std::string::npos);
  CHECK(plaster_need(m, record(), 0, coats({{"one", 11, {1, 1}}})).ok());
  CHECK_FALSE(plaster_need(m, record(13), 0, coats({{"one", 5, {1, 1}}})).ok());
  // Both coats together reach the centre, though neither does alone.
  CHECK_FALSE(plaster_need(m, record(), 0, coats({{"first", 8, {1, 1}}, {"final", 5, {1, 1}}})).ok());
}

TEST_CASE("settings no plaster can have are refused") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK_FALSE(validate(coats({})).ok());
  CHECK_FALSE(validate(coats({{"one", 0, {1, 1}}})).ok());
  CHECK_FALSE(validate(coats({{"one", nan, {1, 1}}})).ok());
  CHECK_FALSE(validate(coats({{"one", 5, {0, 1}}})).ok());
  CHECK_FALSE(validate(coats({{"one", 5, {1, 1}}}, -1)).ok());
  CHECK_FALSE(validate(coats({{"one", 5, {1, 1}}}, 0, -1)).ok());
  PlasterSettings s;
  s.voids = 1;
  CHECK_FALSE(validate(s).ok());
  const auto refused = [](auto&& change) {
    PlasterSettings changed;
    change(changed);
    return !validate(changed).ok();
  };
  CHECK(refused([](auto& c) { c.intonaco[0].mix = {.putty = 1, .sand = 0}; }));
  CHECK_FALSE(refused([](auto& c) { c.intonaco[0].mix = {.putty = 1, .sand = 0, .marble = 1}; }));
  CHECK(refused([](auto& c) { c.ground.arriccio.thickness_mm = -1; }));
  CHECK(refused([](auto& c) { c.ground.keys_L_per_m2 = -1; }));
  CHECK(refused([](auto& c) { c.supply.putty_solids = 1; }));
  CHECK(refused([](auto& c) { c.supply.bucket_L = 0; }));
  CHECK(refused([](auto& c) { c.supply.marble_voids = 1; }));
  CHECK(refused([](auto& c) { c.supply.quicklime_purity = 0; }));
  CHECK_FALSE(plaster_need(flat_patch(1), record(), 0, s).ok());
  CHECK_FALSE(plaster_need(flat_patch(1), record(-2), 0, PlasterSettings{}).ok());
  CHECK(validate(PlasterSettings{}).ok());
}

TEST_CASE("totals add every giornata") {
  const auto a = plaster_need(flat_patch(1), record(), 1, PlasterSettings{});
  const auto b = plaster_need(flat_patch(2), record(), 0, PlasterSettings{});
  REQUIRE(a.ok());
  REQUIRE(b.ok());
  const std::vector<GiornataNeed> needs{*a, *b};
  const PlasterTotals totals = plaster_totals(needs);
  CHECK(totals.mortar_L == Approx(a->mortar_L + b->mortar_L));
  CHECK(totals.sand_kg == Approx(a->sand_kg + b->sand_kg));
  CHECK(plaster_totals({}).mortar_L == 0);
}
