// "Check one known distance".
#include "engine/wall/known_scale.h"

#include "tests/wall/scan_checks.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

struct OnDisc {
  TestFolder folder;
  std::string path = write_glb(folder.file("wall.glb"), {glb_mesh(y_up(flat_sheet(4, 3, 8, 6)))});
};

}  // namespace

TEST_CASE("the scale is the length measured by hand over the scan's own, straight between the places") {
  const OnDisc wall;
  const auto known = known_scale(wall.path, {}, 4.05, {0, 0, 1}, {4, 0, 1});
  REQUIRE(known.ok());
  CHECK(known->measured_m == Approx(4));
  CHECK(known->factor == Approx(4.05 / 4));
  CHECK_FALSE(known->warns);
  CHECK(known->says == "the scan measured 4.000 m where 4.050 m was measured by hand: everything is scaled by 1.0125");
  ScanOptions options;
  options.scale = known->factor;
  CHECK(scanned(wall.path, options).raw_area_m2 == Approx(12 * 1.0125 * 1.0125));
  // Measured again with that scale, the factor stands.
  const auto again = known_scale(wall.path, options, 4.05, {0, 0, 1.0125}, {4.05, 0, 1.0125});
  CHECK(again->factor == Approx(known->factor));
}

TEST_CASE("places near the surface are brought onto it, and the placement counts") {
  const OnDisc wall;
  ScanOptions options;
  options.placement = {{10, 0, 0}, 90};
  const auto known = known_scale(wall.path, options, 2, {10.02, 0, 1}, {9.97, 2, 1});
  REQUIRE(known.ok());
  CHECK(known->measured_m == Approx(2));
  CHECK(known->factor == Approx(1));
}

TEST_CASE("more than 2 % warns, and a factor outside 0.2 to 5 asks for the unit") {
  const OnDisc wall;
  CHECK_FALSE(known_scale(wall.path, {}, 4 * 1.0199, {0, 0, 1}, {4, 0, 1})->warns);
  const auto off = known_scale(wall.path, {}, 3.9, {0, 0, 1}, {4, 0, 1});
  CHECK(off->warns);
  CHECK(off->says.find("2.5 % off") != std::string::npos);
  for (const double known : {0.79, 20.1, 4000.0}) {
    const auto refused = known_scale(wall.path, {}, known, {0, 0, 1}, {4, 0, 1});
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.problem().message().find("--unit") != std::string::npos);
  }
}

TEST_CASE("places in the air, places that are one, and lengths that are none are refused") {
  const OnDisc wall;
  CHECK(known_scale(wall.path, {}, 4, {0, -1, 1}, {4, 0, 1}).problem().what.find("0.000, -1.000, 1.000") !=
        std::string::npos);
  CHECK(known_scale(wall.path, {}, 4, {1, 0, 1}, {1.05, 0, 1}).problem().what.find("50.0 mm apart") !=
        std::string::npos);
  for (const double bad : {0.0, -4.0, std::nan("")})
    CHECK_FALSE(known_scale(wall.path, {}, bad, {0, 0, 1}, {4, 0, 1}).ok());
  CHECK_FALSE(known_scale(wall.folder.file("none.glb"), {}, 4, {0, 0, 1}, {4, 0, 1}).ok());
}
