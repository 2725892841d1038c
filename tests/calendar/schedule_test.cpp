// Days of a plan: what each rule of calendar.h does to them, by hand and on random layouts.
#include <algorithm>
#include <catch2/catch.hpp>
#include <random>
#include <set>

#include "tests/calendar/patches.h"

using namespace pontata;
using fixtures::patch;

namespace {

const Date kMonday{2027, 5, 3};

GiornataId id(std::uint32_t value) { return GiornataId{value}; }

Date may(int day) { return {2027, 5, day}; }

PairRule before(std::uint32_t a, std::uint32_t b) { return {id(a), id(b), PairKind::before}; }
PairRule apart(std::uint32_t a, std::uint32_t b) { return {id(a), id(b), PairKind::apart}; }
PairRule together(std::uint32_t a, std::uint32_t b) { return {id(a), id(b), PairKind::together}; }

std::vector<std::uint32_t> order(const Plan& plan) {
  std::vector<std::uint32_t> ids;
  for (const PlannedDay& d : plan.days) ids.push_back(d.id.value);
  return ids;
}

const PlannedDay& day_of(const Plan& plan, std::uint32_t value) {
  const auto it = std::ranges::find(plan.days, id(value), &PlannedDay::id);
  REQUIRE(it != plan.days.end());
  return *it;
}

Date date_of(const Plan& plan, std::uint32_t value) { return day_of(plan, value).date; }

std::vector<PlanIssue> issues_of(const Plan& plan, const std::string& rule) {
  std::vector<PlanIssue> found;
  for (const PlanIssue& issue : plan.issues)
    if (issue.rule == rule) found.push_back(issue);
  return found;
}

std::vector<PlanEvent> events_of(const Plan& plan, PlanEventKind kind) {
  std::vector<PlanEvent> found;
  for (const PlanEvent& event : plan.events)
    if (event.kind == kind) found.push_back(event);
  return found;
}

// A row of patches on one deck, each the neighbour of the next.
std::vector<PlanInput> row_of(std::uint32_t count) {
  std::vector<PlanInput> row;
  for (std::uint32_t k = 1; k <= count; ++k) {
    std::vector<std::uint32_t> beside;
    if (k > 1) beside.push_back(k - 1);
    if (k < count) beside.push_back(k + 1);
    row.push_back(patch(k, 2, 3, k, beside));
  }
  return row;
}

CalendarSettings two_decks() {
  CalendarSettings s;
  s.levels_m = {0, 2};
  return s;
}

// One above the other, each on a deck of its own.
std::vector<PlanInput> tower() { return {patch(1, 2.2, 3, 1), patch(2, 0.2, 1, 1)}; }

}  // namespace

TEST_CASE("work goes away from the painting hand, or against it") {
  const auto row = row_of(3);
  CalendarSettings s;
  CHECK(order(make_plan(row, s)) == std::vector<std::uint32_t>{1, 2, 3});
  s.left_handed = true;
  CHECK(order(make_plan(row, s)) == std::vector<std::uint32_t>{3, 2, 1});
  s.against_hand = true;
  CHECK(order(make_plan(row, s)) == std::vector<std::uint32_t>{1, 2, 3});
  s.left_handed = false;
  CHECK(order(make_plan(row, s)) == std::vector<std::uint32_t>{3, 2, 1});
}

TEST_CASE("forced pairs hold, and those that go round in a circle are told as the circle they are") {
  const auto row = row_of(4);
  std::vector<PairRule> pairs{before(4, 1), before(3, 4)};
  const Plan plan = make_plan(row, {}, {.pairs = pairs});
  CHECK(order(plan) == std::vector<std::uint32_t>{2, 3, 4, 1});
  CHECK(plan.problems.empty());
  pairs.push_back(before(1, 3));
  const Plan round = make_plan(row, {}, {.pairs = pairs});
  CHECK(order(round) == order(plan));  // the last one gives way
  CHECK(round.circles == std::vector<std::vector<GiornataId>>{{id(1), id(3), id(4)}});
  REQUIRE(issues_of(round, "circle").size() == 1);
  CHECK(round.problems.front().find("1 before 3, 3 before 4, 4 before 1") != std::string::npos);
}

TEST_CASE("a pair against the decks gives way to the scaffold") {
  const std::vector<PairRule> pairs{before(2, 1)};
  const Plan plan = make_plan(tower(), two_decks(), {.pairs = pairs});
  CHECK(order(plan) == std::vector<std::uint32_t>{1, 2});
  const auto told = issues_of(plan, "forced-pair");
  REQUIRE(told.size() == 1);
  CHECK(told[0].giornate == std::vector{id(2), id(1)});
  CHECK(told[0].says.find("lower deck") != std::string::npos);
  CHECK(issues_of(plan, "circle").empty());
}

TEST_CASE("a pair with painted work that came too early is told") {
  auto row = row_of(2);
  row[1].state = GiornataState::done;
  const std::vector<PairRule> pairs{before(1, 2)};
  CHECK(issues_of(make_plan(row, {}, {.pairs = pairs}), "forced-pair").size() == 1);
  row[1].state = GiornataState::planned;
  CHECK(issues_of(make_plan(row, {}, {.pairs = pairs}), "forced-pair").empty());
}

TEST_CASE("water that must run onto earlier work is told: off a lower deck, and near the crown as advice") {
  auto wall = tower();
  wall[1].measure.runs_onto = {{id(1), 0.4, 0}};
  const Plan plan = make_plan(wall, two_decks());
  CHECK(order(plan) == std::vector<std::uint32_t>{1, 2});
  REQUIRE(issues_of(plan, "drips").size() == 1);
  CHECK_FALSE(issues_of(plan, "drips")[0].advice);
  wall[1].measure.runs_onto = {{id(1), 0.4, 0.4}};
  const Plan crown = make_plan(wall, two_decks());
  REQUIRE(issues_of(crown, "drips").size() == 1);
  CHECK(issues_of(crown, "drips")[0].advice);
  CHECK(crown.problems.empty());
}

TEST_CASE("two painters: apart never on one day, together even side by side") {
  CalendarSettings s;
  s.painters = 2;
  const auto row = row_of(3);
  const Plan plain = make_plan(row, s);
  CHECK(date_of(plain, 1) == date_of(plain, 3));
  const std::vector<PairRule> pairs{apart(1, 3), together(1, 2)};
  const Plan plan = make_plan(row, s, {.pairs = pairs});
  CHECK(date_of(plan, 1) == date_of(plan, 2));
  CHECK(date_of(plan, 3) > date_of(plan, 2));
  CHECK(plan.problems.empty());
}

TEST_CASE("wetted by its companion: together only not before it") {
  CalendarSettings s;
  s.painters = 2;
  auto row = row_of(2);
  row[1].measure.runs_onto = {{id(1), 0.3, 0}};
  const std::vector<PairRule> pairs{together(1, 2)};
  const Plan plan = make_plan(row, s, {.pairs = pairs});
  CHECK(date_of(plan, 1) == date_of(plan, 2));
  const std::vector<PairRule> asked{together(1, 2), before(2, 1)};
  const Plan later = make_plan(row, s, {.pairs = asked});
  CHECK(date_of(later, 1) > date_of(later, 2));
}

TEST_CASE("days off are left free and told") {
  const std::vector<DaysOff> off{{may(4), may(5), DayOffWhy::dust, "stairs sanded"}, {may(7), may(7), {}, ""}};
  const Plan plan = make_plan(row_of(3), {}, {.days_off = off});
  CHECK(date_of(plan, 1) == may(3));
  CHECK(date_of(plan, 2) == may(6));
  CHECK(date_of(plan, 3) == may(10));
  const auto told = events_of(plan, PlanEventKind::day_off);
  REQUIRE(told.size() == 2);
  CHECK(told[0].from == may(4));
  CHECK(told[0].to == may(5));
  CHECK(told[0].says.find("nothing wet") != std::string::npos);
  CHECK(told[0].says.find("stairs sanded") != std::string::npos);
  CHECK(plan.problems.empty());
}

TEST_CASE("between pontate the scaffold is moved, on working days, in dust too") {
  CalendarSettings s = two_decks();
  s.move_days = 3;
  s.start = may(6);  // a Thursday
  const std::vector<DaysOff> off{{may(7), may(7), DayOffWhy::dust, ""}, {may(10), may(10), DayOffWhy::rest, ""}};
  const Plan plan = make_plan(tower(), s, {.days_off = off});
  const auto moves = events_of(plan, PlanEventKind::scaffold_move);
  REQUIRE(moves.size() == 1);
  CHECK(moves[0].from == may(7));
  CHECK(moves[0].to == may(12));  // 7, 11 and 12; a weekend and a day of rest between
  CHECK(moves[0].pontata == 2);
  CHECK(date_of(plan, 2) == may(13));
  s.move_days = 0;
  CHECK(events_of(make_plan(tower(), s), PlanEventKind::scaffold_move).empty());
}

TEST_CASE("what is behind ties and standards is painted last of its pontata, as it is struck") {
  auto row = row_of(3);
  row[0].behind_scaffold = true;
  row.push_back(patch(4, 0.2, 1, 1));
  CalendarSettings s = two_decks();
  s.strike_days = 2;
  const Plan plan = make_plan(row, s);
  CHECK(order(plan) == std::vector<std::uint32_t>{2, 3, 1, 4});
  CHECK(day_of(plan, 1).for_strike);
  CHECK_FALSE(day_of(plan, 2).for_strike);
  const auto strikes = events_of(plan, PlanEventKind::strike);
  REQUIRE(strikes.size() == 2);  // of the lower deck, in the end, as well
  CHECK(strikes[0].from == may(5));
  CHECK(strikes[0].to == may(7));
  CHECK(strikes[0].says.find("giornata 1") != std::string::npos);
  CHECK(events_of(plan, PlanEventKind::scaffold_move).at(0).from == may(10));
  CHECK(date_of(plan, 4) == may(11));
}

TEST_CASE("a pair against the strike gives way to it") {
  auto row = row_of(2);
  row[0].behind_scaffold = true;
  const std::vector<PairRule> pairs{before(1, 2)};
  const Plan plan = make_plan(row, two_decks(), {.pairs = pairs});
  CHECK(order(plan) == std::vector<std::uint32_t>{2, 1});
  CHECK(issues_of(plan, "forced-pair").at(0).says.find("strike") != std::string::npos);
}

TEST_CASE("arriccio is painted on when it is cured and signed for") {
  auto row = row_of(2);
  for (auto& p : row) p.wall = WallId{7};
  GroundWork work{WallId{7}, 0, {2027, 4, 10}, {}, "", false, false, false, ""};
  const auto plan_on = [&](const GroundWork& w) {
    const std::vector<GroundWork> ground{w};
    return make_plan(row, {}, {.walls = {{WallId{7}, "apse"}}, .ground = ground});
  };
  const Plan unsigned_ = plan_on(work);
  CHECK(date_of(unsigned_, 1) == may(10));  // 30 days after 10 April
  REQUIRE(issues_of(unsigned_, "ground-not-ready").size() == 1);
  CHECK_FALSE(issues_of(unsigned_, "ground-not-ready")[0].advice);
  CHECK(unsigned_.problems.at(0).find("of apse") != std::string::npos);
  CHECK(events_of(unsigned_, PlanEventKind::arriccio).at(0).from == Date{2027, 4, 10});
  CHECK(events_of(unsigned_, PlanEventKind::sign_off).at(0).from == may(10));

  work.signed_on = may(12);
  work.sound = work.no_salts = work.no_damp = true;
  CHECK(date_of(plan_on(work), 1) == may(12));
  CHECK(plan_on(work).problems.empty());
  CHECK(events_of(plan_on(work), PlanEventKind::sign_off).at(0).from == may(12));
  work.signed_on = may(5);  // before it is cured
  CHECK(date_of(plan_on(work), 1) == may(10));
  work.no_damp = false;
  CHECK(issues_of(plan_on(work), "ground-not-ready").at(0).says.find("free of damp") != std::string::npos);
  work.pontata = 2;  // none is worked there
  CHECK(issues_of(plan_on(work), "ground-not-ready").at(0).advice);
  CHECK(date_of(plan_on(work), 1) == may(3));
}

TEST_CASE("a pontata's own arriccio counts before the wall's, and others are painted meanwhile") {
  auto row = row_of(3);
  for (auto& p : row) p.wall = WallId{1};
  row[0].wall = WallId{2};
  const auto signed_for = [](WallId wall, int pontata, Date laid) {
    return GroundWork{wall, pontata, laid, laid, "", true, true, true, ""};
  };
  const std::vector<GroundWork> ground{signed_for(WallId{1}, 0, {2027, 1, 1}), signed_for(WallId{2}, 0, {2020, 1, 1}),
                                       signed_for(WallId{2}, 1, {2027, 4, 5})};
  const Plan plan = make_plan(row, {}, {.ground = ground});
  CHECK(order(plan) == std::vector<std::uint32_t>{2, 3, 1});
  CHECK(date_of(plan, 1) == may(5));
  CHECK(plan.problems.empty());
}

TEST_CASE("walls whose arriccio nobody told of are noted once, and held up by nothing") {
  auto row = row_of(3);
  for (auto& p : row) p.wall = WallId{4};
  const Plan plan = make_plan(row, {});
  REQUIRE(issues_of(plan, "ground-not-ready").size() == 1);
  CHECK(issues_of(plan, "ground-not-ready")[0].advice);
  CHECK(plan.problems.empty());
  CHECK(date_of(plan, 1) == may(3));
}

TEST_CASE("a day set by hand is kept, and the rest goes round it") {
  auto row = row_of(3);
  row[0].day = may(4);
  const Plan plan = make_plan(row, {});
  CHECK(order(plan) == std::vector<std::uint32_t>{2, 1, 3});
  CHECK(day_of(plan, 1).moved);
  CHECK(plan.problems.empty());
}

TEST_CASE("what must come before a giornata set by hand comes in time where it can") {
  auto row = row_of(5);
  row[4].measure.runs_onto = {{id(3), 0.5, 0}};
  row[2].day = may(5);  // 5 must be painted by the 4th, though it would come last
  const Plan plan = make_plan(row, {});
  CHECK(date_of(plan, 3) == may(5));
  CHECK(date_of(plan, 5) < may(5));
  CHECK(plan.problems.empty());
  row[2].day = may(3);
  const Plan early = make_plan(row, {});
  CHECK(date_of(early, 3) == may(3));
  REQUIRE(issues_of(early, "moved-before").size() == 1);
  CHECK(issues_of(early, "moved-before")[0].giornate == std::vector{id(3), id(5)});
}

TEST_CASE("a day set by hand is honoured whatever it breaks, and that is told") {
  auto row = row_of(2);
  const std::vector<DaysOff> off{{may(11), may(11), DayOffWhy::dust, ""}};
  row[1].day = may(8);  // a Saturday
  CHECK(issues_of(make_plan(row, {}), "day-off").at(0).says.find("no working day") != std::string::npos);
  row[1].day = may(11);
  CHECK(issues_of(make_plan(row, {}, {.days_off = off}), "day-off").at(0).says.find("dust") != std::string::npos);
  row[1].day = Date{2027, 4, 30};
  CHECK(issues_of(make_plan(row, {}), "moved-before").size() == 1);
  row[0].day = row[1].day = may(4);
  const Plan wet = make_plan(row, {});
  CHECK(date_of(wet, 1) == may(4));
  CHECK(date_of(wet, 2) == may(4));
  CHECK(issues_of(wet, "wet-seam").size() == 1);
  CHECK(issues_of(wet, "over-full").size() == 1);  // one painter
  const std::vector<PairRule> pairs{together(1, 2)};
  CHECK(issues_of(make_plan(row, {}, {.pairs = pairs}), "wet-seam").empty());
  const std::vector<PairRule> never{apart(1, 2)};
  CHECK(issues_of(make_plan(row, {}, {.pairs = never}), "forced-pair").size() == 1);
  auto two = tower();
  two[1].day = may(3);
  const Plan low = make_plan(two, two_decks());
  CHECK(date_of(low, 2) == may(3));
  CHECK(issues_of(low, "moved-before").at(0).says.find("scaffold") != std::string::npos);
}

TEST_CASE("moved far back, a giornata keeps its deck standing") {
  auto two = tower();
  two[0].day = may(20);
  const Plan plan = make_plan(two, two_decks());
  CHECK(date_of(plan, 1) == may(20));
  CHECK(date_of(plan, 2) == may(24));  // moved on the 21st
  CHECK(plan.problems.empty());
}

TEST_CASE("painters share what one plasterer lays of a morning and what the deck carries") {
  CalendarSettings s = two_decks();
  s.painters = 3;
  auto row = row_of(6);
  for (auto& p : row) p.mortar_kg = 60;
  CHECK(date_of(make_plan(row, s), 5) == may(3));
  s.plasterer_m2 = 2.5;  // of 1 m² each
  CHECK(date_of(make_plan(row, s), 3) == may(3));
  CHECK(date_of(make_plan(row, s), 5) > may(3));
  CHECK(make_plan(row, s).problems.empty());
  s.plasterer_m2 = 0.9;
  CHECK(issues_of(make_plan(row, s), "plasterer").size() == 6);
  s.plasterer_m2.reset();
  s.load_kg = {500, 420};  // two painters, a plasterer and 120 kg
  CHECK(date_of(make_plan(row, s), 3) == may(3));
  CHECK(date_of(make_plan(row, s), 5) > may(3));
  CHECK(issues_of(make_plan(row, s), "deck-load").empty());
  s.load_kg = {500, 250};  // one painter, a plasterer and 60 kg are too much
  const Plan heavy = make_plan(row, s);
  CHECK(issues_of(heavy, "deck-load").size() == 6);
  CHECK(issues_of(heavy, "deck-load")[0].says.find("60 kg of wet mortar") != std::string::npos);
  CHECK(issues_of(heavy, "deck-load")[0].says.find("2 people") != std::string::npos);
}

TEST_CASE("reach is by deck") {
  CalendarSettings s = two_decks();
  s.reach_m = {2.3, 0.5};
  const auto wall = tower();  // to 3 m, above a deck at 2 m
  CHECK(issues_of(make_plan(wall, s), "reach").size() == 1);
  s.reach_m = {2.3, 1.0};
  CHECK(issues_of(make_plan(wall, s), "reach").empty());
}

TEST_CASE("the weather of a day advises, until ten days of the diary stand behind it") {
  auto row = row_of(2);
  const std::vector<DayWeather> weather{{may(3), {30, 30, 10}, {}}};
  CalendarSettings s;
  const double factor = weather_factor(weather[0].air, s.reference);
  REQUIRE(factor == kLeastWeatherFactor);
  const Plan advice = make_plan(row, s, {.weather = weather, .diary_days = kDiaryDaysForWeather - 1});
  CHECK_FALSE(advice.weather_counts);
  CHECK(day_of(advice, 1).window_h == 7);
  CHECK(day_of(advice, 1).weather_window_h == painting_window_h(s, factor));
  CHECK_FALSE(day_of(advice, 2).weather_window_h);
  CHECK(day_of(advice, 1).fits == true);
  REQUIRE(issues_of(advice, "over-full").size() == 1);
  CHECK(issues_of(advice, "over-full")[0].advice);
  CHECK(issues_of(advice, "over-full")[0].says.find("assumption of ours") != std::string::npos);
  const Plan counts = make_plan(row, s, {.weather = weather, .diary_days = kDiaryDaysForWeather});
  CHECK(counts.weather_counts);
  CHECK(day_of(counts, 1).window_h == Approx(3));  // 10 h by 0.6 less 1 and 2
  CHECK(day_of(counts, 1).fits == false);
  CHECK(day_of(counts, 2).window_h == 7);
  CHECK_FALSE(issues_of(counts, "over-full").at(0).advice);
  s.window_by_weather = false;
  CHECK_FALSE(make_plan(row, s, {.weather = weather, .diary_days = 99}).weather_counts);
}

TEST_CASE("cold and frost are alerts, heat is a note, each once a day and only on days with work") {
  CalendarSettings s;
  s.painters = 2;
  const auto row = row_of(3);
  std::vector<DayWeather> weather{{may(3), {4, 60, 0}, -1.0}, {may(4), {28, 60, 0}, {}}, {may(5), {2, 60, 0}, {}}};
  const Plan plan = make_plan(row, s, {.weather = weather});
  CHECK(issues_of(plan, "cold").size() == 1);
  CHECK(issues_of(plan, "frost").size() == 1);
  REQUIRE(issues_of(plan, "heat").size() == 1);
  CHECK(issues_of(plan, "heat")[0].advice);
  CHECK(plan.problems.size() == 2);
  CHECK(issues_of(plan, "cold")[0].giornate == std::vector{id(1), id(3)});
}

TEST_CASE("dry work waits until the plaster has set") {
  const auto row = row_of(1);
  PlanFacts facts;
  facts.secco = {{id(1), "blue of the mantle", {}}, {id(1), "gold", may(20)}};
  const Plan plan = make_plan(row, {}, facts);
  const auto secco = events_of(plan, PlanEventKind::secco);
  REQUIRE(secco.size() == 2);
  CHECK(secco[0].from == may(20));
  CHECK(secco[1].from == Date{2027, 7, 2});  // 60 days after 3 May, a Friday
  CHECK(issues_of(plan, "secco-early").size() == 1);
}

TEST_CASE("painted work keeps its day, what is left comes after it and after the scaffold") {
  auto wall = tower();
  wall[0].state = GiornataState::done;
  wall[0].painted = may(6);
  const Plan plan = make_plan(wall, two_decks());
  CHECK(order(plan) == std::vector<std::uint32_t>{1, 2});
  CHECK(day_of(plan, 1).painted == may(6));
  CHECK(day_of(plan, 1).date == may(6));
  CHECK_FALSE(day_of(plan, 1).dated);
  CHECK(events_of(plan, PlanEventKind::scaffold_move).at(0).from == may(7));
  CHECK(date_of(plan, 2) == may(10));
}

TEST_CASE("what is to be done again is planned anew") {
  auto row = row_of(3);
  for (auto& p : row) p.state = GiornataState::done;
  row[1].state = GiornataState::redo;
  row[1].attempt = 2;
  const Plan plan = make_plan(row, {});
  CHECK(order(plan) == std::vector<std::uint32_t>{1, 3, 2});
  CHECK(day_of(plan, 2).dated);
  CHECK(day_of(plan, 2).attempt == 2);
}

// --- Random layouts --------------------------------------------------------------------------------------------------

namespace {

struct RandomJob {
  std::vector<PlanInput> giornate;
  std::vector<PairRule> pairs;
  std::vector<DaysOff> off;
  std::vector<GroundWork> ground;
  CalendarSettings settings;

  Plan plan() const { return make_plan(giornate, settings, {.pairs = pairs, .days_off = off, .ground = ground}); }
};

// A grid of patches on four decks, with water down the columns and a few to the side.
RandomJob random_job(unsigned seed) {
  std::mt19937 random(seed);
  RandomJob job;
  const auto columns = static_cast<std::uint32_t>(3 + random() % 4), rows = 6U;
  const auto at = [&](std::uint32_t c, std::uint32_t r) { return r * columns + c + 1; };
  for (std::uint32_t r = 0; r < rows; ++r)
    for (std::uint32_t c = 0; c < columns; ++c) {
      std::vector<std::uint32_t> beside;
      if (c > 0) beside.push_back(at(c - 1, r));
      if (c + 1 < columns) beside.push_back(at(c + 1, r));
      if (r > 0) beside.push_back(at(c, r - 1));
      if (r + 1 < rows) beside.push_back(at(c, r + 1));
      PlanInput p = patch(at(c, r), 1.2 * r, 1.2 * r + 1.2, c, beside);
      p.wall = WallId{random() % 2 == 0 ? 1U : 2U};
      p.measure.area_m2 = 0.5 + 0.1 * static_cast<double>(random() % 10);
      p.behind_scaffold = random() % 9 == 0;
      if (r > 0) p.measure.runs_onto.push_back({id(at(c, r - 1)), 0.5, random() % 4 == 0 ? 0.5 : 0.0});
      if (c > 0 && random() % 3 == 0) p.measure.runs_onto.push_back({id(at(c - 1, r)), 0.2, 0});
      if (c + 1 < columns && random() % 5 == 0) p.measure.runs_onto.push_back({id(at(c + 1, r)), 0.1, 0});
      job.giornate.push_back(p);
    }
  const auto any = [&] { return id(static_cast<std::uint32_t>(1 + random() % (columns * rows))); };
  for (int k = 0; k < 8; ++k)
    if (const PairRule rule{any(), any(), static_cast<PairKind>(random() % 3)}; rule.first != rule.second)
      job.pairs.push_back(rule);
  for (int k = 0; k < 4; ++k) {
    const Date from = add_days(kMonday, static_cast<int>(random() % 60));
    job.off.push_back({from, add_days(from, static_cast<int>(random() % 5)), static_cast<DayOffWhy>(random() % 4), ""});
  }
  job.ground.push_back({WallId{2}, static_cast<int>(random() % 3), {2027, 4, 20}, {}, "", false, false, false, ""});
  job.settings.levels_m = {0, 1.8, 3.6, 5.4};
  job.settings.painters = 1 + static_cast<int>(random() % 3);
  job.settings.move_days = static_cast<int>(random() % 3);
  job.settings.strike_days = static_cast<int>(random() % 3);
  if (random() % 2 == 0) job.settings.plasterer_m2 = 2;
  return job;
}

bool ruled(const RandomJob& job, PairKind kind, GiornataId a, GiornataId b) {
  return std::ranges::any_of(job.pairs, [&](const PairRule& r) {
    return r.kind == kind && ((r.first == a && r.second == b) || (r.first == b && r.second == a));
  });
}

const PlanInput& input_of(const RandomJob& job, GiornataId g) { return job.giornate[g.value - 1]; }

}  // namespace

TEST_CASE("random jobs: each giornata once, on days with work, in order of decks") {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    INFO("seed " << seed);
    const RandomJob job = random_job(seed);
    const Plan plan = job.plan();
    std::set<GiornataId> met;
    Date last = kMonday;
    int pontata = 1;
    for (const PlannedDay& d : plan.days) {
      CHECK(met.insert(d.id).second);
      CHECK(d.date >= last);
      CHECK(d.pontata >= pontata);
      CHECK(weekday(d.date) <= 5);
      for (const DaysOff& off : job.off) CHECK_FALSE((off.from <= d.date && d.date <= off.to));
      for (const GroundWork& work : job.ground)
        if (input_of(job, d.id).wall == work.wall && (work.pontata == 0 || work.pontata == d.pontata))
          CHECK(d.date >= add_days(work.laid, job.settings.curing_days));
      last = d.date;
      pontata = d.pontata;
    }
    CHECK(met.size() == job.giornate.size());
    for (const char* rule : {"wet-seam", "moved-before", "day-off", "plasterer"}) CHECK(issues_of(plan, rule).empty());
  }
}

TEST_CASE("random jobs: what lies on one day may") {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    INFO("seed " << seed);
    const RandomJob job = random_job(seed);
    std::map<Date, std::vector<PlannedDay>> days;
    for (const PlannedDay& d : job.plan().days) days[d.date].push_back(d);
    for (const auto& [date, list] : days) {
      CHECK(list.size() <= static_cast<std::size_t>(job.settings.painters));
      double area = 0;
      for (std::size_t i = 0; i < list.size(); ++i) {
        area += input_of(job, list[i].id).measure.area_m2;
        for (std::size_t k = 0; k < i; ++k) {
          CHECK(list[i].pontata == list[k].pontata);
          CHECK_FALSE(ruled(job, PairKind::apart, list[i].id, list[k].id));
          const auto& beside = input_of(job, list[i].id).measure.neighbours;
          if (std::ranges::find(beside, list[k].id) != beside.end())
            CHECK(ruled(job, PairKind::together, list[i].id, list[k].id));
        }
      }
      if (list.size() > 1 && job.settings.plasterer_m2) CHECK(area <= *job.settings.plasterer_m2);
    }
  }
}

TEST_CASE("random jobs: pairs and water hold unless told, and behind the scaffold comes last") {
  int told = 0;
  for (unsigned seed = 1; seed <= 60; ++seed) {
    INFO("seed " << seed);
    const RandomJob job = random_job(seed);
    const Plan plan = job.plan();
    const auto said = [&](GiornataId a, GiornataId b) {
      const bool found = std::ranges::any_of(plan.issues, [&](const PlanIssue& issue) {
        const auto& g = issue.giornate;
        return (issue.rule == "forced-pair" || issue.rule == "circle" || issue.rule == "drips") &&
               std::ranges::find(g, a) != g.end() && std::ranges::find(g, b) != g.end();
      });
      told += found;
      return found;
    };
    const auto day = [&](GiornataId g) -> const PlannedDay& { return day_of(plan, g.value); };
    for (const PairRule& r : job.pairs)
      if (r.kind == PairKind::before && day(r.first).date >= day(r.second).date) CHECK(said(r.first, r.second));
    for (const PlanInput& p : job.giornate)
      for (const auto& run : p.measure.runs_onto) {
        if (run.crown_m > 0 || day(p.measure.id).date < day(run.id).date) continue;
        const bool one_day =
            day(p.measure.id).date == day(run.id).date && ruled(job, PairKind::together, p.measure.id, run.id);
        if (!one_day) CHECK(said(p.measure.id, run.id));
      }
    for (const PlannedDay& a : plan.days)
      for (const PlannedDay& b : plan.days)
        if (a.pontata == b.pontata && a.for_strike && !b.for_strike) CHECK(b.date < a.date);
  }
  CHECK(told > 60);
}
