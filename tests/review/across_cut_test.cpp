// The review of a wall that closes round itself: its cut is no seam and no end.
#include <catch2/catch.hpp>

#include "tests/fixtures/rounds.h"
#include "tests/review/reviewed.h"

using namespace pontata;
using fixtures::rectangle_of;
using fixtures::Round;
using fixtures::Turn;

namespace {

Zone zone_across(const Round& r, const fixtures::Outline& outline) {
  const auto rings = r.rings(outline);
  REQUIRE(rings);
  Zone z;
  z.id = ZoneId{1};
  z.name = "face";
  z.ring = rings->front();
  z.more.assign(rings->begin() + 1, rings->end());
  return z;
}

}  // namespace

TEST_CASE("the corners at a cut are no thin ends") {
  Round r(Turn{});
  r.add({{15.4, 0.5}, {16.02, 0.5}, {16.3, 1.0}, {16.02, 1.5}, {15.4, 1.5}});  // narrow and pointed right of the cut
  CHECK(on_wall(r).findings_of("thin-end").empty());
  Round tip(Turn{});
  tip.add({{15, 1}, {17, 1.25}, {15, 1.5}});  // a true tip, over the cut
  const auto found = on_wall(tip).findings_of("thin-end");
  REQUIRE(found.size() == 1);
  CHECK(found[0].value == Approx(14.25).margin(0.5));  // 2 atan(0.25 / 2)
  CHECK(found[0].chart.u < 1.001);                     // the tip lies 1 m over the cut
}

TEST_CASE("rest is measured across the cut before it is called a gap") {
  Round r(Turn{});
  r.add(rectangle_of(0.25, 0, 1, 2));
  r.add({{0, 0}, {0.25, 0}, {0.25, 1.9}, {0, 1.9}});
  // A piece of 0.25 by 0.1 m is left by the cut, but it goes on over it.
  CHECK(on_wall(r).findings_of("gap").empty());
  r.add(rectangle_of(15, 0, 16, 2));
  const auto found = on_wall(r).findings_of("gap");
  REQUIRE(found.size() == 1);
  CHECK(found[0].value == Approx(0.025).epsilon(0.01));
  CHECK(found[0].giornate == std::vector<GiornataId>{{1}, {2}, {3}});
}

TEST_CASE("a zone across the cut is crossed by seams on either side and along the cut") {
  const auto crossed = [](const Round& r, const Zone& zone) {
    Reviewed reviewed = on_wall(r);
    reviewed.zones = {zone};
    return reviewed.findings_of("crosses-keep-whole");
  };
  Round across(Turn{});
  across.add(rectangle_of(15, 0.25, 17, 1.75));
  const Zone zone = zone_across(across, rectangle_of(15.75, 0.5, 16.5, 1));
  REQUIRE(zone.more.size() == 1);
  CHECK(crossed(across, zone).empty());
  Round parted(Turn{});
  parted.add(rectangle_of(15, 0.25, 16.25, 1.75));
  parted.add(rectangle_of(16.25, 0.25, 17, 1.75));
  const auto beside = crossed(parted, zone);
  REQUIRE(beside.size() == 1);
  CHECK(beside[0].value == Approx(0.5).epsilon(1e-6));
  Round along(Turn{});
  along.add(rectangle_of(15, 0.25, 16, 1.75));
  along.add(rectangle_of(0, 0.25, 1, 1.75));
  const auto at_cut = crossed(along, zone);
  REQUIRE(at_cut.size() == 1);
  CHECK(at_cut[0].value == Approx(0.5).epsilon(0.07));
  CHECK(at_cut[0].giornate == std::vector<GiornataId>{{1}, {2}});
}

TEST_CASE("hours count a detail zone on both sides of the cut") {
  Round r(Turn{});
  r.add(rectangle_of(15, 0.25, 17, 1.75));
  Zone zone = zone_across(r, rectangle_of(15.75, 0.5, 16.5, 1));
  zone.kind = ZoneKind::detail;
  zone.rate_m2_per_h = 0.05;
  CalendarSettings calendar;
  calendar.rate_m2_per_h = 0.5;
  const std::vector<Zone> zones{zone};
  const auto measure = r.measure();
  const auto hours = painting_hours(*r.wall, r.network, measure.giornate[0], zones, calendar);
  REQUIRE(hours.hours);
  const double detail = 0.375 * measure.giornate[0].area_m2 / 3;
  CHECK(*hours.hours == Approx(detail / 0.05 + (measure.giornate[0].area_m2 - detail) / 0.5).epsilon(1e-6));
}
