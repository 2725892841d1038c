// Volumes of coats on whole walls, through seam network and measures, against shells between concentric surfaces.
#include <catch2/catch.hpp>

#include "engine/plaster/mortar.h"
#include "tests/fixtures/layouts.h"

using namespace pontata;
using namespace pontata::layouts;

namespace {

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
