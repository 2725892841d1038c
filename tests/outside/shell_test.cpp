// Volumes of coats on whole walls, through seam network and measures, against shells between concentric surfaces.
#include <catch2/catch.hpp>
#include <numbers>

#include "engine/plaster/ground.h"
#include "tests/fixtures/layouts.h"

using namespace pontata;
using namespace pontata::layouts;

namespace {

// Litres of rinzaffo, arriccio and both coats of intonaco over the whole of a wall.
struct FourCoats {
  double rinzaffo, arriccio, first, final;
};
FourCoats four_coats(const ShapeSpec& spec, SurfaceIs surface) {
  const Layout wall = whole(spec, default_tolerance(spec));
  const WallMeasure measure = wall.measure();
  REQUIRE(measure.giornate.size() == 1);
  PlasterSettings settings;
  settings.ground.surface = surface;
  const auto ground = ground_need(terms_of(*wall.wall), settings);
  const auto intonaco = plaster_need(measure.giornate[0], wall.giornate[0], 0, settings);
  REQUIRE(ground.ok());
  REQUIRE(intonaco.ok());
  // The wall's own sum and the giornata's, which the network adds up along its rim, are of one surface.
  CHECK(ground_need(terms_of(measure.giornate[0]), settings)->mortar_L == Approx(ground->mortar_L).epsilon(1e-7));
  return {ground->coats[0].net_L, ground->coats[1].net_L, intonaco->coats[0].net_L, intonaco->coats[1].net_L};
}

// Closed forms: what lies between the radii.
template <class Shell>
void check_shells(const FourCoats& is, double bare_radius, Shell shell, double within = 1e-4) {
  const double r = bare_radius;
  CHECK(is.rinzaffo == Approx(shell(r, r - 0.005)).epsilon(within));
  CHECK(is.arriccio == Approx(shell(r - 0.005, r - 0.017)).epsilon(within));
  CHECK(is.first == Approx(shell(r - 0.017, r - 0.021)).epsilon(within));
  CHECK(is.final == Approx(shell(r - 0.021, r - 0.024)).epsilon(within));
}

double coat_m3(const ShapeSpec& spec, double thickness_mm) {
  const Layout wall = whole(spec, default_tolerance(spec) * 4);
  const WallMeasure measure = wall.measure();
  REQUIRE(measure.giornate.size() == 1);
  REQUIRE(measure.residual_m2 == 0);
  PlasterSettings settings;
  settings.intonaco = {{"one", thickness_mm, {1, 1}}};
  const auto need = plaster_need(measure.giornate[0], wall.giornate[0], 0, settings);
  REQUIRE(need.ok());
  return need->coats[0].net_L / 1000;
}

}  // namespace

TEST_CASE("a 15 mm coat inside a hemisphere of 3 m is the shell between two spheres") {
  // Closed form 2 pi/3 (3^3 - 2.985^3); flat area times thickness would be 0.8482300.
  CHECK(coat_m3(dome(6, 3), 15) == Approx(0.8439959).epsilon(1e-3));
}

TEST_CASE("a 15 mm coat inside a half cylinder of 0.5 m is the shell between two cylinders") {
  // Closed form pi/2 (0.5^2 - 0.485^2) 4; flat area times thickness would be 0.0942478.
  CHECK(coat_m3(barrel(1, 4, 0.5), 15) == Approx(0.0928341).epsilon(1e-3));
}

TEST_CASE("a coat on a flat wall is area times thickness") {
  CHECK(coat_m3(flat(4, 3), 15) == Approx(0.18).epsilon(1e-8));
}

TEST_CASE("coats upon coats inside a cylinder are the shells between concentric cylinders") {
  // Closed form pi/2 (R^2 - r^2) L for half a cylinder; any table of geometric solids.
  for (const double radius : {0.5, 2.0}) {
    const auto shell = [](double outer, double inner) {
      return 1000 * std::numbers::pi / 2 * (outer * outer - inner * inner) * 4;
    };
    INFO(radius);
    check_shells(four_coats(barrel(2 * radius, 4, radius), SurfaceIs::bare_wall), radius, shell);
    check_shells(four_coats(barrel(2 * radius, 4, radius), SurfaceIs::arriccio), radius + 0.017, shell);
  }
}

TEST_CASE("coats upon coats inside a sphere are the shells between concentric spheres") {
  // Closed form 2 pi/3 (R^3 - r^3) for half a sphere; any table of geometric solids.
  for (const double radius : {0.75, 3.0}) {
    const auto shell = [](double outer, double inner) {
      return 1000 * 2 * std::numbers::pi / 3 * (outer * outer * outer - inner * inner * inner);
    };
    INFO(radius);
    check_shells(four_coats(dome(2 * radius, radius), SurfaceIs::bare_wall), radius, shell);
    check_shells(four_coats(dome(2 * radius, radius), SurfaceIs::arriccio), radius + 0.017, shell);
  }
}

TEST_CASE("coats upon coats in a cloister vault end on the bisecting planes of its arrises") {
  // The parallel surface of two crossed half cylinders is two narrower or wider ones: volume under the vault 8 r^3/3
  // (MathWorld, "Vault"); what lies between two of them holds the coat, its ends at the arrises included.
  const auto shell = [](double outer, double inner) {
    return 1000 * 8.0 / 3 * (outer * outer * outer - inner * inner * inner);
  };
  ShapeSpec spec = flat(4, 4);
  spec.kind = ShapeKind::cloister;
  spec.span = spec.length = 4;
  spec.rise = 2;
  // Twice as wide as for smooth walls: the mitre along bent arrises leaves out terms in t^3 (engine/chart/arris.h).
  check_shells(four_coats(spec, SurfaceIs::bare_wall), 2, shell, 2e-4);
  check_shells(four_coats(spec, SurfaceIs::arriccio), 2.017, shell, 2e-4);
}
