#include <catch2/catch.hpp>

#include "engine/review/rules.h"
#include "tests/review/reviewed.h"

using namespace pontata;
using namespace pontata::layouts;

namespace {

std::vector<Finding> drips(const Reviewed& r) { return r.findings_of("drips-on-finished"); }

bool is_pair(const Finding& f, std::uint32_t later, std::uint32_t earlier) {
  return f.giornate == std::vector<GiornataId>{GiornataId{later}, GiornataId{earlier}};
}

}  // namespace

TEST_CASE("working down a flat wall drips on nothing finished") { CHECK(drips(rows(3, 3)).empty()); }

TEST_CASE("painting a row above finished work drips on it") {
  Reviewed r = rows(2, 1);  // 1 above, 2 below
  r.order = {2, 1};
  const auto found = drips(r);
  REQUIRE(found.size() == 1);
  CHECK(is_pair(found[0], 1, 2));
  CHECK(found[0].severity == Severity::decide);
  CHECK(found[0].value == Approx(1).epsilon(0.01));  // its whole lower edge
  CHECK(found[0].chart.v < 1);
  CHECK(found[0].chart.v > 0.9);
  CHECK(found[0].says.find("Giornata 1 is painted after giornata 2") == 0);
}

TEST_CASE("drips reach past a row that is still to be painted") {
  Reviewed r = rows(3, 1);
  r.order = {3, 1, 2};
  const auto found = drips(r);
  REQUIRE(found.size() == 2);
  CHECK(is_pair(found[0], 1, 3));
  CHECK(is_pair(found[1], 2, 3));
}

TEST_CASE("splashes to the side are a warning") {
  Reviewed r = on_wall(on(flat(4, 4)));
  add_box(r.layout, 1, 3, 2, 4);
  add_box(r.layout, 2.2, 0, 3, 2);  // beside the column below it
  r.order = {2, 1};
  const auto found = drips(r);
  REQUIRE(found.size() == 1);
  CHECK(found[0].severity == Severity::warn);
  CHECK(found[0].says.find("to the side") != std::string::npos);
  r.settings.splash_m = 0.1;
  CHECK(drips(r).empty());
}

TEST_CASE("splashes on a neighbour are only noted: some neighbour is always finished first") {
  Reviewed r = on_wall(on(flat(4, 4)));
  add_box(r.layout, 1, 2, 2, 4);
  add_box(r.layout, 2, 0, 3, 3);
  r.order = {2, 1};
  const auto found = drips(r);
  REQUIRE(found.size() == 1);
  CHECK(found[0].severity == Severity::note);
}

TEST_CASE("a dab's worth of edge is not reported") {
  Reviewed r = on_wall(on(flat(4, 4)));
  add_box(r.layout, 1, 2, 2, 4);
  add_box(r.layout, 1.95, 0, 3, 2);
  r.order = {2, 1};
  r.settings.splash_m = 0;
  CHECK(drips(r).empty());
}

TEST_CASE("a seam that leans both ways is a warning whichever is first") {
  // Right over left at the top, left over right further down, by the same width.
  Reviewed r = on_wall(on(flat(4, 4)));
  add(r.layout, std::vector<ChartPoint>{{0, 0}, {2, 0}, {2.5, 1}, {2.5, 3}, {2, 4}, {0, 4}});
  add_box(r.layout, 0, 0, 4, 4);
  for (const auto& order : {std::vector<std::uint32_t>{1, 2}, std::vector<std::uint32_t>{2, 1}}) {
    r.order = order;
    const auto found = drips(r);
    REQUIRE(found.size() == 1);
    CHECK(found[0].severity == Severity::warn);
  }
}

TEST_CASE("the plan itself puts the leaning one first") {
  // In one row, the right one overhangs the left one: it is painted first though it is further right.
  Reviewed r = on_wall(on(flat(4, 1.5)));
  add(r.layout, std::vector<ChartPoint>{{0, 0}, {2.4, 0}, {1.6, 1.5}, {0, 1.5}});
  add_box(r.layout, 0, 0, 4, 1.5);
  CHECK(drips(r).empty());
  r.order = {1, 2};
  const auto found = drips(r);
  REQUIRE(found.size() == 1);
  CHECK(found[0].severity == Severity::decide);
  CHECK(found[0].value == Approx(0.8).epsilon(0.02));
}

TEST_CASE("on a barrel water runs down both sides, and near the crown it is only a warning") {
  Reviewed r = on_wall(on(barrel(4, 3, 2)));
  const double arc = r.layout.wall->chart->box().height;
  add_box(r.layout, 0, 0, 3, 0.25 * arc);           // 1: one haunch
  add_box(r.layout, 0, 0.25 * arc, 3, 0.38 * arc);  // 2: above it, steeper than 30 degrees
  add_box(r.layout, 0, 0.38 * arc, 3, 0.62 * arc);  // 3: the crown
  add_box(r.layout, 0, 0.62 * arc, 3, arc);         // 4: the other haunch
  CHECK(drips(r).empty());                          // planned from the crown down
  r.order = {1, 2, 3, 4};
  const auto up = drips(r);
  REQUIRE(up.size() == 3);
  CHECK(is_pair(up[0], 2, 1));
  CHECK(up[0].severity == Severity::decide);
  CHECK(up[0].value == Approx(3).epsilon(0.02));
  CHECK(is_pair(up[1], 3, 1));
  CHECK(up[1].severity == Severity::warn);
  CHECK(is_pair(up[2], 3, 2));
  CHECK(up[2].severity == Severity::warn);
}

TEST_CASE("in an apse the half dome drips on the drum, whatever the turn of the wall") {
  for (const double turn : {0.0, 130.0}) {
    Reviewed r = on_wall(on(apse(4, 2), 0.002, {{3, -2, 1}, turn}));
    const ChartBox b = r.layout.wall->chart->box();
    add_box(r.layout, 2, 0.5, 4, 1.8);  // on the drum
    add_box(r.layout, 2.2, 2.1, 3.8, 3.2);
    CHECK(drips(r).empty());
    r.order = {1, 2};
    const auto found = drips(r);
    REQUIRE(found.size() == 1);
    CHECK(is_pair(found[0], 2, 1));
    CHECK(found[0].severity == Severity::decide);
    CHECK(b.width > 6);
  }
}

TEST_CASE("work on one day by two painters does not count as finished") {
  Reviewed r = rows(1, 2);
  r.calendar.painters = 2;
  CHECK(drips(r).empty());
}

TEST_CASE("without a plan there are no drips to judge") {
  Reviewed r = rows(2, 1);
  const WallMeasure measure = r.layout.measure();
  ReviewInput input;
  input.wall = r.layout.wall;
  input.network = &r.layout.network;
  input.giornate = r.layout.giornate;
  input.measure = &measure;
  const auto found = review(input, {});
  CHECK(found.empty());
}

TEST_CASE("the way down is the steepest on the surface") {
  const Layout l = on(dome(6, 3), 0.001);
  const ChartBox b = l.wall->chart->box();
  // About the crown the chart is polar: down is away from the centre (DESIGN: dome, (u, v) = centre + s (cos, -sin)).
  for (const double angle : {0.3, 2.0, 4.5}) {
    const Vec2 out(std::cos(angle), std::sin(angle));
    const auto fall = fall_at(*l.wall, to_chart(Vec2(0.5 * b.width, 0.5 * b.height) + 3.0 * out));
    REQUIRE(fall);
    CHECK(glm::dot(glm::normalize(fall->down), out) == Approx(1).epsilon(2e-3));
    CHECK(glm::length(fall->down) == Approx(1).epsilon(5e-3));
    CHECK(fall->sine == Approx(std::sin(1.0)).epsilon(2e-2));  // 3 m of arc on 3 m radius: 1 radian from level
    CHECK(fall->overhangs);
    CHECK_FALSE(fall->drops());
  }
  const auto crown = fall_at(*l.wall, {0.5 * b.width + 0.5, 0.5 * b.height});
  REQUIRE(crown);
  CHECK(crown->drops());
}
