#include <catch2/catch.hpp>

#include "engine/calendar/calendar.h"
#include "tests/fixtures/layouts.h"

using namespace pontata;
using namespace pontata::layouts;

namespace {

Zone detail(std::uint32_t id, double u0, double v0, double u1, double v1, std::optional<double> rate) {
  Zone z;
  z.id = ZoneId{id};
  z.kind = ZoneKind::detail;
  z.ring = {to_lattice({u0, v0}), to_lattice({u1, v0}), to_lattice({u1, v1}), to_lattice({u0, v1})};
  z.rate_m2_per_h = rate;
  return z;
}

CalendarSettings rate(std::optional<double> m2_per_h) {
  CalendarSettings s;
  s.rate_m2_per_h = m2_per_h;
  return s;
}

GiornataHours hours(const Layout& l, std::uint32_t id, const std::vector<Zone>& zones,
                    const CalendarSettings& settings) {
  return painting_hours(*l.wall, l.network, l.measure().giornate.at(id - 1), zones, settings);
}

}  // namespace

TEST_CASE("hours are area over the painter's rate") {
  Layout l = on(flat(6, 4));
  add_box(l, 1, 1, 3, 2);
  const GiornataHours h = hours(l, 1, {}, rate(0.25));
  REQUIRE(h.hours);
  CHECK(*h.hours == Approx(8));
  CHECK(h.window_h == Approx(7));
  CHECK_FALSE(*h.fits);
  CHECK(*hours(l, 1, {}, rate(0.5)).fits);
}

TEST_CASE("without a rate hours are unknown, never zero") {
  Layout l = on(flat(6, 4));
  add_box(l, 1, 1, 3, 2);
  for (const auto& settings : {rate(std::nullopt), rate(0), rate(-1)}) {
    CHECK_FALSE(hours(l, 1, {}, settings).hours);
    CHECK_FALSE(hours(l, 1, {}, settings).fits);
  }
  CHECK_FALSE(hours(l, 1, {detail(1, 1, 1, 2, 2, 0.1)}, rate(std::nullopt)).hours);  // half of it has none
  const auto covered = hours(l, 1, {detail(1, 0, 0, 4, 4, 0.4)}, rate(std::nullopt));
  REQUIRE(covered.hours);
  CHECK(*covered.hours == Approx(5));
}

TEST_CASE("a detail zone's part goes by its own rate") {
  Layout l = on(flat(6, 4));
  add_box(l, 1, 1, 3, 2);
  CHECK(*hours(l, 1, {detail(1, 2, 0, 5, 3, 0.1)}, rate(0.5)).hours == Approx(1 / 0.1 + 1 / 0.5));
  CHECK(*hours(l, 1, {detail(1, 4, 0, 5, 3, 0.1)}, rate(0.5)).hours == Approx(4));  // beside it
  CHECK(*hours(l, 1, {detail(1, 2, 0, 5, 3, std::nullopt)}, rate(0.5)).hours == Approx(4));
  Zone whole_figure = detail(1, 2, 0, 5, 3, 0.1);
  whole_figure.kind = ZoneKind::keep_whole;
  CHECK(*hours(l, 1, {whole_figure}, rate(0.5)).hours == Approx(4));
}

TEST_CASE("where detail zones overlap the first counts, and nothing counts twice") {
  Layout l = on(flat(6, 4));
  add_box(l, 1, 1, 3, 2);
  const Zone left = detail(1, 1, 1, 2.25, 2, 0.1), right = detail(2, 1.75, 1, 3, 2, 0.2);
  CHECK(*hours(l, 1, {left, right}, rate(1)).hours == Approx(1.25 / 0.1 + 0.75 / 0.2));
  CHECK(*hours(l, 1, {right, left}, rate(1)).hours == Approx(1.25 / 0.2 + 0.75 / 0.1));
}

TEST_CASE("detail areas are true areas on a vault, and a hole is not painted") {
  Layout l = on(dome(5, 2.5));
  const ChartBox box = l.wall->chart->box();
  const ChartPoint middle{0.5 * box.width, 0.5 * box.height};
  add(l, blob(middle, 0.4, 0.2, 30));
  add(l, blob(middle, 1.2, 0.2, 60));
  const auto measure = l.measure();
  // A zone over everything gives the same hours as the rate itself, a zone over half the wall splits the area in two.
  const auto all = detail(1, 0, 0, box.width, box.height, 0.3);
  CHECK(*hours(l, 2, {all}, rate(0.1)).hours == Approx(measure.giornate[1].area_m2 / 0.3).epsilon(1e-8));
  const auto left = detail(1, 0, 0, middle.u, box.height, 0.3),
             right = detail(2, middle.u, 0, box.width, box.height, 0.3);
  const double halves = *hours(l, 2, {left}, rate(1e9)).hours + *hours(l, 2, {right}, rate(1e9)).hours;
  CHECK(halves == Approx(measure.giornate[1].area_m2 / 0.3).epsilon(1e-7));
}

TEST_CASE("a zone without a rate of its own goes by that of its subject, else by the painter's") {
  Layout l = on(flat(6, 4));
  add_box(l, 1, 1, 3, 2);  // 2 m2
  Zone head = detail(1, 1, 1, 1.5, 2, std::nullopt), cloak = detail(2, 1.5, 1, 2, 2, std::nullopt);
  head.subject = Subject::faces;
  cloak.subject = Subject::drapery;
  CalendarSettings s = rate(0.5);
  s.subject_rates[static_cast<std::size_t>(Subject::faces)] = 0.1;
  const GiornataHours h = hours(l, 1, {head, cloak}, s);
  CHECK(h.areas_m2[static_cast<std::size_t>(Subject::faces)] == Approx(0.5));
  CHECK(h.areas_m2[static_cast<std::size_t>(Subject::drapery)] == Approx(0.5));
  CHECK(h.areas_m2[static_cast<std::size_t>(Subject::none)] == Approx(1));
  CHECK(h.hours_of[static_cast<std::size_t>(Subject::faces)] == Approx(5));
  CHECK(*h.hours == Approx(0.5 / 0.1 + 0.5 / 0.5 + 1 / 0.5));
  head.rate_m2_per_h = 0.25;
  CHECK(*hours(l, 1, {head, cloak}, s).hours == Approx(0.5 / 0.25 + 0.5 / 0.5 + 1 / 0.5));
  s.rate_m2_per_h.reset();
  const GiornataHours unknown = hours(l, 1, {head, cloak}, s);
  CHECK_FALSE(unknown.hours);
  CHECK(unknown.hours_of[static_cast<std::size_t>(Subject::faces)] == Approx(2));
  CHECK_FALSE(unknown.hours_of[static_cast<std::size_t>(Subject::drapery)]);
}

TEST_CASE("laying counts against the whole day, not against the window") {
  Layout l = on(flat(6, 4));
  add_box(l, 1, 1, 3, 2);
  CalendarSettings s = rate(0.3);  // 6.67 h of 7
  CHECK(*hours(l, 1, {}, s).fits);
  s.lay_rate_m2_per_h = 0.5;  // 4 h, and 1 h wait, and 1 h in the evening: 12.67 h
  CHECK(hours(l, 1, {}, s).lay_h == Approx(4));
  CHECK(*hours(l, 1, {}, s).fits);
  s.whole_day_h = 12.5;
  CHECK_FALSE(*hours(l, 1, {}, s).fits);
}
