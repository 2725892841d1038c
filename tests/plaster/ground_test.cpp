// Coat upon coat: each lies on the surface that the one before has made.
#include "engine/plaster/ground.h"

#include <catch2/catch.hpp>
#include <numbers>

using namespace pontata;

namespace {

constexpr double kPi = std::numbers::pi;

// Inside of a half cylinder, radius r, 1 m long; of a hemisphere.
PatchTerms half_cylinder(double r) { return {kPi * r, -kPi, 0}; }
PatchTerms hemisphere(double r) { return {2 * kPi * r * r, -4 * kPi * r, 2 * kPi}; }

GiornataMeasure measured(const PatchTerms& patch, double radius) {
  GiornataMeasure m;
  m.id = GiornataId{1};
  m.area_m2 = patch.area_m2, m.bend_m = patch.bend_m, m.gauss = patch.gauss;
  m.least_concave_radius_m = radius;
  return m;
}

// No waste, no margin: rinzaffo 5, arriccio 12, first 4, final 3 mm.
PlasterSettings plain(SurfaceIs surface) {
  PlasterSettings s;
  s.waste_pct = 0;
  s.ground.surface = surface;
  return s;
}

double intonaco_L(const PatchTerms& patch, const PlasterSettings& settings) {
  return plaster_need(measured(patch, 0.5), Giornata{}, 0, settings)->mortar_L;
}

}  // namespace

TEST_CASE("the intonaco of a half cylinder of 0.5 m is less on its ground than on the bare wall") {
  const PatchTerms wall = half_cylinder(0.5);
  const auto shell = [](double outer, double inner) { return 1000 * kPi / 2 * (outer * outer - inner * inner); };
  CHECK(intonaco_L(wall, plain(SurfaceIs::arriccio)) == Approx(shell(0.5, 0.493)));
  CHECK(intonaco_L(wall, plain(SurfaceIs::bare_wall)) == Approx(shell(0.483, 0.476)));
  CHECK(intonaco_L(wall, plain(SurfaceIs::bare_wall)) / intonaco_L(wall, plain(SurfaceIs::arriccio)) ==
        Approx(1 - 0.017 / 0.4965));
}

TEST_CASE("the ground lies before a bare wall and behind the face of an arriccio") {
  const auto shell = [](double outer, double inner) {
    return 1000 * 2 * kPi / 3 * (outer * outer * outer - inner * inner * inner);
  };
  const auto bare = ground_need(hemisphere(0.5), plain(SurfaceIs::bare_wall));
  REQUIRE(bare.ok());
  REQUIRE(bare->coats.size() == 2);
  CHECK(bare->coats[0].name == "rinzaffo");
  CHECK(bare->coats[0].net_L == Approx(shell(0.5, 0.495)));
  CHECK(bare->coats[1].net_L == Approx(shell(0.495, 0.483)));
  const auto face = ground_need(hemisphere(0.5), plain(SurfaceIs::arriccio));
  REQUIRE(face.ok());
  CHECK(face->coats[0].net_L == Approx(shell(0.517, 0.512)));
  CHECK(face->coats[1].net_L == Approx(shell(0.512, 0.5)));
}

TEST_CASE("one wall told by its two surfaces needs the same coats") {
  // The bare wall at 0.517 m and the face of its arriccio at 0.5 m are parallel.
  const auto a = ground_need(half_cylinder(0.517), plain(SurfaceIs::bare_wall));
  const auto b = ground_need(half_cylinder(0.5), plain(SurfaceIs::arriccio));
  for (std::size_t i = 0; i < 2; ++i) CHECK(a->coats[i].net_L == Approx(b->coats[i].net_L));
  CHECK(intonaco_L(half_cylinder(0.517), plain(SurfaceIs::bare_wall)) ==
        Approx(intonaco_L(half_cylinder(0.5), plain(SurfaceIs::arriccio))));
}

TEST_CASE("a coat of no thickness is left out, keys go into the coat laid first") {
  PlasterSettings s = plain(SurfaceIs::arriccio);
  s.ground.keys_L_per_m2 = 2;
  s.waste_pct = 10;
  const PatchTerms wall = half_cylinder(0.5);
  const auto both = ground_need(wall, s);
  CHECK(both->keys_L == Approx(2 * kPi * 0.517));  // of the bare wall behind
  CHECK(both->coats[0].mortar_L == Approx(1.1 * (both->coats[0].net_L + both->keys_L)));
  CHECK(both->coats[1].mortar_L == Approx(1.1 * both->coats[1].net_L));
  CHECK(both->mortar_L == Approx(both->coats[0].mortar_L + both->coats[1].mortar_L));
  CHECK(both->sand_L == Approx(both->coats[0].sand_L + both->coats[1].sand_L));
  s.ground.rinzaffo.thickness_mm = 0;
  const auto one = ground_need(wall, s);
  REQUIRE(one->coats.size() == 1);
  CHECK(one->coats[0].mortar_L == Approx(1.1 * (one->coats[0].net_L + one->keys_L)));
  s.ground.arriccio.thickness_mm = 0;
  CHECK(ground_need(wall, s)->coats.empty());
  CHECK(ground_need(wall, s)->mortar_L == 0);
}

TEST_CASE("a levelled arriccio takes its own volume, on the rinzaffo's surface") {
  // Even depth of 14 mm: the same as a coat of 14 mm on the rinzaffo, to the second order in its thickness.
  const PatchTerms wall = half_cylinder(2);
  PlasterSettings s = plain(SurfaceIs::bare_wall);
  s.ground.arriccio.thickness_mm = 14;
  const double direct = ground_need(wall, s)->coats[1].net_L;
  s.ground.arriccio.thickness_mm = 12;
  const LevelledGround levelled{layer_volume(wall, 0, 0.014), 0.014};
  const auto need = ground_need(wall, s, levelled);
  CHECK(need->coats[1].net_L == Approx(direct).epsilon(1e-6));
  CHECK(need->coats[1].thickness_mm == Approx(14));
}

TEST_CASE("parts of a wall add up to the whole") {
  const PatchTerms whole = hemisphere(1);
  PatchTerms part{0.3 * whole.area_m2, 0.3 * whole.bend_m, 0.3 * whole.gauss}, rest = whole;
  rest -= part;
  const PlasterSettings s = plain(SurfaceIs::arriccio);
  CHECK(ground_need(part, s)->mortar_L + ground_need(rest, s)->mortar_L == Approx(ground_need(whole, s)->mortar_L));
}

TEST_CASE("ground and intonaco together must fit into a hollow") {
  PlasterSettings s = plain(SurfaceIs::bare_wall);
  GiornataMeasure m = measured(half_cylinder(0.5), 0.02);  // 17 and 7 mm
  const auto refused = plaster_need(m, Giornata{}, 0, s);
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.problem().what.find("on 17 mm of ground") != std::string::npos);
  s.ground.surface = SurfaceIs::arriccio;
  CHECK(plaster_need(m, Giornata{}, 0, s).ok());
}
