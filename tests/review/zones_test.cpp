#include <catch2/catch.hpp>

#include "tests/review/reviewed.h"

using namespace pontata;
using namespace pontata::layouts;

namespace {

// Two giornate side by side with a plumb seam at u = 2.
Reviewed pair() {
  Reviewed r = on_wall(on(flat(4, 4)));
  add_box(r.layout, 0, 0, 2, 4);
  add_box(r.layout, 2, 0, 4, 4);
  return r;
}

std::vector<Finding> crossed(Reviewed r, const std::vector<ChartPoint>& zone) {
  r.zones = {keep_whole(1, zone, "face")};
  return r.findings_of("crosses-keep-whole");
}

}  // namespace

TEST_CASE("a seam through a zone to be kept whole is to be decided, with its length inside") {
  const auto found = crossed(pair(), box(1.7, 1, 2.2, 1.6));
  REQUIRE(found.size() == 1);
  CHECK(found[0].severity == Severity::decide);
  CHECK(found[0].giornate == std::vector<GiornataId>{GiornataId{1}, GiornataId{2}});
  CHECK(found[0].value == Approx(0.6).epsilon(1e-6));
  CHECK(found[0].says.find("\"face\"") != std::string::npos);
  CHECK(found[0].chart.u == Approx(2).margin(1e-6));
  CHECK(found[0].chart.v > 1);
  CHECK(found[0].chart.v < 1.6);
}

TEST_CASE("a zone wholly in one giornata is left alone") {
  CHECK(crossed(pair(), box(0.5, 1, 1.5, 2)).empty());
  CHECK(crossed(pair(), box(2.1, 1, 3, 2)).empty());
}

TEST_CASE("a seam along a zone's rim does not enter") {
  CHECK(crossed(pair(), box(2, 1, 3, 2)).empty());
  CHECK(crossed(pair(), box(1, 1, 2, 2)).empty());
  // Touching the seam with one corner, and a notch whose bottom lies on it.
  CHECK(crossed(pair(), {{2, 1}, {3, 0.5}, {3, 1.5}}).empty());
  CHECK(crossed(pair(), {{1, 1}, {3, 1}, {3, 3}, {1, 3}, {1, 2.5}, {2, 2.5}, {2, 1.5}, {1, 1.5}}).size() == 1);
  CHECK(crossed(pair(), {{2, 1}, {3, 1}, {3, 3}, {2, 3}, {2, 2.5}, {2.4, 2}, {2, 1.5}}).empty());
}

TEST_CASE("a seam through two corners of a zone enters though it crosses no side") {
  const auto found = crossed(pair(), {{2, 1}, {2.5, 1.5}, {2, 2}, {1.5, 1.5}});
  REQUIRE(found.size() == 1);
  CHECK(found[0].value == Approx(1).epsilon(1e-6));
}

TEST_CASE("a seam that grazes the rim by a hair is no crossing, by a centimetre it is") {
  CHECK(crossed(pair(), box(1.9995, 1, 3, 2)).empty());
  CHECK(crossed(pair(), box(1.99, 1, 3, 2)).size() == 1);
}

TEST_CASE("a giornata that ends inside a zone is found at its corner") {
  Reviewed r = on_wall(on(flat(4, 4)));
  add_box(r.layout, 1, 1, 2, 2);
  const auto found = crossed(r, box(1.8, 1.8, 3, 3));
  REQUIRE(found.size() == 1);
  CHECK(found[0].value == Approx(0.4).epsilon(1e-6));
  CHECK(found[0].giornate == std::vector<GiornataId>{GiornataId{1}});
  CHECK(found[0].says.find("the rest of the wall") != std::string::npos);
  CHECK(crossed(r, box(0.5, 0.5, 2.5, 2.5)).size() == 1);  // the giornata lies wholly inside the zone
}

TEST_CASE("the wall's own border enters no zone, and a detail zone may be crossed") {
  Reviewed r = on_wall(on(flat(4, 4)));
  add_box(r.layout, 0, 0, 4, 4);
  CHECK(crossed(r, box(-1, 1, 5, 2)).empty());
  Reviewed p = pair();
  p.zones = {keep_whole(1, box(1, 1, 3, 2))};
  p.zones[0].kind = ZoneKind::detail;
  CHECK(p.findings_of("crosses-keep-whole").empty());
}

TEST_CASE("lengths inside a zone are surface lengths on a vault") {
  Reviewed r = on_wall(on(barrel(4, 6, 2)));
  const double arc = r.layout.wall->chart->box().height;
  add_box(r.layout, 1, 0.2 * arc, 3, 0.8 * arc);
  const auto found = crossed(r, box(2.5, 0.4 * arc, 4, 0.6 * arc));
  REQUIRE(found.size() == 1);
  CHECK(found[0].value == Approx(0.2 * arc).epsilon(1e-3));
}
