// What is written down on the job, as the plan takes it.
#include "engine/document/flow.h"
#include "engine/document/job_edits.h"
#include "tests/document/small_project.h"

using namespace pontata;

namespace {

PlannedDay day_of(const Document& doc, std::uint32_t id) {
  static Flow flow;
  for (const PlannedDay& day : flow.plan(doc)->days)
    if (day.id.value == id) return day;
  throw std::logic_error("not planned");
}

DiaryEntry entry(std::uint32_t id, Date date) {
  DiaryEntry e;
  e.giornata = GiornataId{id};
  e.date = date;
  e.hours = 4;
  return e;
}

}  // namespace

TEST_CASE("pairs, days off and days set by hand reach the plan") {
  auto doc = small_project();
  doc = done(add_pair(*doc, {GiornataId{2}, GiornataId{1}, PairKind::before}));
  CHECK(day_of(*doc, 2).date < day_of(*doc, 1).date);
  doc = done(add_days_off(*doc, {{2027, 5, 3}, {2027, 5, 4}, DayOffWhy::dust, ""}));
  CHECK(day_of(*doc, 2).date == Date{2027, 5, 5});
  doc = done(move_to_day(*doc, GiornataId{1}, Date{2027, 5, 12}));
  CHECK(day_of(*doc, 1).date == Date{2027, 5, 12});
  CHECK(day_of(*doc, 1).moved);
}

TEST_CASE("arriccio, weather and dry work reach the plan, and a wall goes by its name") {
  auto doc = small_project();
  const WallId wall = doc->walls[0]->id;
  doc = done(set_ground(*doc, {wall, 0, {2027, 4, 20}, {}, "", false, false, false, ""}));
  const std::vector<DayWeather> weather{{{2027, 5, 20}, {30, 40, 0}, {}}};
  doc = done(add_weather(*doc, weather));
  doc = done(set_secco(*doc, {0, GiornataId{1}, "gold", "size", 0.1, 2, {}}));
  Flow flow;
  const auto plan = flow.plan(*doc);
  CHECK(plan->days[0].date == Date{2027, 5, 20});  // 30 days after the 20th of April
  CHECK(plan->days[0].weather_window_h.has_value());
  REQUIRE_FALSE(plan->problems.empty());
  CHECK(plan->problems[0].find("of " + doc->walls[0]->name) != std::string::npos);
  const auto secco = std::ranges::find(plan->events, PlanEventKind::secco, &PlanEvent::kind);
  REQUIRE(secco != plan->events.end());
  CHECK(secco->says.find("gold, size") != std::string::npos);
}

TEST_CASE("what the diary tells of the day is kept; what failed is planned again among finished edges") {
  auto doc = small_project();
  doc = write_diary(*doc, entry(1, {2027, 5, 3}))->document;
  doc = write_diary(*doc, entry(2, {2027, 5, 5}))->document;
  CHECK(day_of(*doc, 1).painted == Date{2027, 5, 3});
  Flow flow;
  const auto rows = flow.giornate(*doc);
  REQUIRE(rows->size() == 2);
  CHECK(rows->at(0).laps.at(0).side == LapSide::cut_first);
  CHECK(rows->at(1).laps.at(0).side == LapSide::pressed);

  doc = done(fail_giornata(*doc, GiornataId{1}, {2027, 5, 7}, "cracked"));
  CHECK(day_of(*doc, 1).attempt == 2);
  CHECK(day_of(*doc, 1).dated);
  CHECK(day_of(*doc, 1).date == Date{2027, 5, 6});
  const auto again = flow.giornate(*doc);
  CHECK(again->at(1).id == GiornataId{1});
  CHECK(again->at(1).meets_finished == std::vector{GiornataId{2}});
  CHECK(again->at(1).laps.at(0).side == LapSide::pressed);
  CHECK(again->at(1).open_edge_m == Approx(3));
}

TEST_CASE("neighbours wet on one day have no edge between them") {
  auto doc = small_project();
  doc = done(set_parameter(*doc, "painters", "2"));
  doc = done(add_pair(*doc, {GiornataId{1}, GiornataId{2}, PairKind::together}));
  Flow flow;
  const auto rows = flow.giornate(*doc);
  CHECK(rows->at(0).day.date == rows->at(1).day.date);
  for (const auto& row : *rows) {
    CHECK(row.open_edge_m == Approx(3));
    CHECK(row.stays_open.empty());
    CHECK(row.meets_finished.empty());
    CHECK(row.one_wet.size() == 1);
    CHECK(row.laps.front().side == LapSide::one_wet);
    CHECK(row.laps.front().length_m == Approx(1));
  }
}

TEST_CASE("weights are asked for only where a deck's load is told") {
  auto doc = small_project();
  Flow flow;
  const auto plan = flow.plan(*doc);
  const auto wasteful = done(set_parameter(*doc, "waste.pct", "50"));
  CHECK(flow.plan(*wasteful) == plan);
  const auto told = done(set_parameter(*doc, "pontata.load", "150"));
  const auto heavy = flow.plan(*told);
  CHECK(std::ranges::count(heavy->issues, "deck-load", &PlanIssue::rule) == 2);
  const auto more = done(set_parameter(*told, "waste.pct", "50"));
  CHECK(flow.plan(*more) != heavy);
}
