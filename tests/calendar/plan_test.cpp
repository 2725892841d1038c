#include <algorithm>
#include <catch2/catch.hpp>
#include <random>
#include <set>

#include "engine/calendar/calendar.h"
#include "tests/calendar/patches.h"

using namespace pontata;

namespace {

// Without a number: named by its place in the order.
PlanInput patch(std::uint32_t id, double low, double high, double u,
                const std::vector<std::uint32_t>& neighbours = {}) {
  PlanInput p = fixtures::patch(id, low, high, u, neighbours);
  p.number = 0;
  return p;
}

std::vector<std::uint32_t> order(const Plan& plan) {
  std::vector<std::uint32_t> ids;
  for (const PlannedDay& d : plan.days) ids.push_back(d.id.value);
  return ids;
}

bool says(const std::vector<std::string>& problems, const std::string& words) {
  return std::any_of(problems.begin(), problems.end(),
                     [&](const std::string& w) { return w.find(words) != std::string::npos; });
}

CalendarSettings decks(std::vector<double> levels) {
  CalendarSettings s;
  s.levels_m = std::move(levels);
  return s;
}

}  // namespace

TEST_CASE("window less wait and stop is what remains for painting") {
  // freski.piligrymka.by, technology page: dry in 10-12 h, start 1 h after laying, stop 2 h before: 7-9 h.
  CalendarSettings s;
  s.day_h = 24;
  s.window_h = 10;
  CHECK(painting_window_h(s) == Approx(7));
  s.window_h = 12;
  CHECK(painting_window_h(s) == Approx(9));
  s.day_h = 6;
  CHECK(painting_window_h(s) == Approx(6));
  s.window_h = 2;
  CHECK(painting_window_h(s) == 0);
}

TEST_CASE("work goes from the top down and from the left in a row") {
  const std::vector<PlanInput> wall{patch(1, 0, 1, 0.5), patch(2, 0, 1, 1.5), patch(3, 1, 2, 0.5),
                                    patch(4, 1.02, 2.03, 1.5), patch(5, 2, 3, 1.0)};
  CHECK(order(make_plan(wall, {})) == std::vector<std::uint32_t>{5, 3, 4, 1, 2});
}

TEST_CASE("one below another in a narrow strip is no tie") {
  const std::vector<PlanInput> wall{patch(1, 2.4, 2.52, 0.1), patch(2, 2.52, 2.6, 0.9)};
  CHECK(order(make_plan(wall, {})) == std::vector<std::uint32_t>{2, 1});
}

TEST_CASE("the order does not depend on the order of the input") {
  std::vector<PlanInput> wall;
  std::mt19937 random(7);
  std::uniform_real_distribution<double> height(0, 6), across(0, 9);
  for (std::uint32_t id = 1; id <= 60; ++id) {
    const double low = height(random);
    wall.push_back(patch(id, low, low + 0.8, across(random)));
  }
  const auto first = order(make_plan(wall, {}));
  for (int i = 0; i < 10; ++i) {
    std::shuffle(wall.begin(), wall.end(), random);
    REQUIRE(order(make_plan(wall, {})) == first);
  }
}

TEST_CASE("a giornata belongs to the deck below its label place") {
  const std::vector<PlanInput> wall{patch(1, 0.2, 1.4, 1), patch(2, 1.9, 3.3, 1), patch(3, 3.6, 5, 1),
                                    patch(4, 1.5, 2.3, 2)};
  const Plan plan = make_plan(wall, decks({0, 2, 4}));
  REQUIRE(order(plan) == std::vector<std::uint32_t>{3, 2, 4, 1});
  CHECK(plan.days[0].pontata == 1);
  CHECK(plan.days[1].pontata == 2);
  CHECK(plan.days[2].pontata == 3);  // its middle, 1.9 m, is below the deck at 2 m
  CHECK(plan.days[3].pontata == 3);
}

TEST_CASE("a patch below every deck is worked from the lowest") {
  const std::vector<double> levels{1, 3};
  CHECK(deck_of(levels, 0.2) == 0);
  CHECK(deck_of(levels, 1.0) == 0);
  CHECK(deck_of(levels, 3.0) == 1);
  CHECK(deck_of(levels, 99.0) == 1);
  CHECK(deck_levels({}, 1.5, 5.6) == std::vector<double>{1.5, 3.5, 5.5});
  CHECK(deck_levels({}, 1.5, 1.6) == std::vector<double>{1.5});
}

TEST_CASE("what would wet a neighbour comes before it, and a circle keeps the row's order") {
  std::vector<PlanInput> wall{patch(1, 2, 3, 1), patch(2, 2, 3, 2), patch(3, 2, 3, 3)};
  wall[2].measure.runs_onto = {{GiornataId{2}, 0.2}};
  CHECK(order(make_plan(wall, {})) == std::vector<std::uint32_t>{1, 3, 2});
  wall[1].measure.runs_onto = {{GiornataId{1}, 0.2}};
  CHECK(order(make_plan(wall, {})) == std::vector<std::uint32_t>{3, 2, 1});
  wall[0].measure.runs_onto = {{GiornataId{3}, 0.2}};
  CHECK(order(make_plan(wall, {})) == std::vector<std::uint32_t>{1, 3, 2});
  wall[0].measure.runs_onto = {{GiornataId{3}, 0.01}};  // a dab with a sponge
  CHECK(order(make_plan(wall, {})) == std::vector<std::uint32_t>{3, 2, 1});
}

TEST_CASE("next comes the first of the row that nothing still to come wets") {
  std::mt19937 random(5);
  for (int round = 0; round < 50; ++round) {
    std::vector<PlanInput> row;
    for (std::uint32_t id = 1; id <= 12; ++id) row.push_back(patch(id, 2, 3, id));
    std::vector<std::uint32_t> falls{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12};  // water runs down this list
    std::shuffle(falls.begin(), falls.end(), random);
    for (int k = 0; k < 4 + round / 3; ++k) {
      std::size_t from = random() % 12, to = random() % 12;
      if (from > to) std::swap(from, to);
      auto& runs = row[falls[from] - 1].measure.runs_onto;
      if (from != to && std::ranges::none_of(runs, [&](const auto& r) { return r.id.value == falls[to]; }))
        runs.push_back({GiornataId{falls[to]}, 0.2});
    }
    std::set<std::uint32_t> left;
    for (std::uint32_t id = 1; id <= 12; ++id) left.insert(id);
    for (const std::uint32_t id : order(make_plan(row, {}))) {
      const auto dry = std::ranges::find_if(left, [&](std::uint32_t one) {
        return std::ranges::none_of(left, [&](std::uint32_t other) {
          return std::ranges::any_of(row[other - 1].measure.runs_onto, [&](auto& r) { return r.id.value == one; });
        });
      });
      REQUIRE(dry != left.end());
      CHECK(id == *dry);
      left.erase(id);
    }
  }
}

TEST_CASE("a second painter does not start below work still to come") {
  // 1 and 2 share a seam; 2 wets 3, which would be free for the second painter.
  std::vector<PlanInput> wall{patch(1, 2, 3, 1, {2}), patch(2, 2, 3, 2, {1, 3}), patch(3, 2, 3, 3, {2})};
  wall[1].measure.runs_onto = {{GiornataId{3}, 0.2}};
  CalendarSettings s;
  s.painters = 2;
  CHECK(order(make_plan(wall, s)) == std::vector<std::uint32_t>{1, 2, 3});
}

TEST_CASE("dates skip days off") {
  std::vector<PlanInput> wall;
  for (std::uint32_t id = 1; id <= 7; ++id) wall.push_back(patch(id, 0, 1, id));
  CalendarSettings s;
  s.start = {2027, 5, 8};  // a Saturday
  const Plan plan = make_plan(wall, s);
  REQUIRE(plan.days.size() == 7);
  CHECK(plan.days[0].date == Date{2027, 5, 10});
  CHECK(plan.days[4].date == Date{2027, 5, 14});
  CHECK(plan.days[5].date == Date{2027, 5, 17});
  for (const PlannedDay& d : plan.days) CHECK(weekday(d.date) <= 5);
}

TEST_CASE("two painters share a day only where they share no seam and stand on one deck") {
  // A row of five, each the neighbour of the next, and one far below.
  std::vector<PlanInput> wall{patch(1, 2, 3, 1, {2}),    patch(2, 2, 3, 2, {1, 3}), patch(3, 2, 3, 3, {2, 4}),
                              patch(4, 2, 3, 4, {3, 5}), patch(5, 2, 3, 5, {4}),    patch(6, 0, 1, 9)};
  CalendarSettings s = decks({0, 2});
  s.painters = 2;
  const Plan plan = make_plan(wall, s);
  REQUIRE(plan.days.size() == 6);
  std::map<Date, std::vector<const PlannedDay*>> days;
  for (const PlannedDay& d : plan.days) days[d.date].push_back(&d);
  for (const auto& [date, list] : days) {
    REQUIRE(list.size() <= 2);
    if (list.size() < 2) continue;
    CHECK(list[0]->pontata == list[1]->pontata);
    const auto& a = wall[list[0]->id.value - 1].measure.neighbours;
    CHECK(std::find(a.begin(), a.end(), list[1]->id) == a.end());
  }
  CHECK(days.size() == 4);  // 1+3, 2+4, 5, 6
  CHECK(order(plan) == std::vector<std::uint32_t>{1, 3, 2, 4, 5, 6});
}

TEST_CASE("finished giornate come first and take no date") {
  std::vector<PlanInput> wall{patch(1, 0, 1, 1), patch(2, 0, 1, 2), patch(3, 2, 3, 1)};
  wall[0].state = GiornataState::done;
  const Plan plan = make_plan(wall, {});
  CHECK(order(plan) == std::vector<std::uint32_t>{1, 3, 2});
  CHECK_FALSE(plan.days[0].dated);
  CHECK(plan.days[1].dated);
  CHECK(plan.days[1].date == CalendarSettings{}.start);
}

TEST_CASE("a plan that holds together has no problems") {
  const std::vector<PlanInput> wall{patch(1, 0.1, 1.4, 1), patch(2, 2.1, 3.4, 1)};
  CHECK(make_plan(wall, decks({0, 2})).problems.empty());
  CHECK(make_plan({}, {}).problems.empty());
  CHECK(make_plan({}, {}).days.empty());
}

TEST_CASE("what does not hold together is said") {
  std::vector<PlanInput> wall{patch(1, 0.1, 1.4, 1), patch(2, 1.1, 3.4, 2), patch(3, 0.3, 4.6, 3)};
  wall[0].hours = {GiornataId{1}, 9.5, 7.0, false};
  wall[1].hours = {GiornataId{2}, std::nullopt, 7.0, std::nullopt};
  wall[0].number = 41;
  CalendarSettings s = decks({0, 2});
  const auto problems = make_plan(wall, s).problems;
  CHECK(says(problems, "Giornata 41 needs 9.5 h of painting, but its plaster leaves 7.0 h"));
  CHECK(says(problems, "rate is not set"));
  CHECK(says(problems, "Giornata 1 reaches from 0.30 m to 4.60 m"));  // first in the order: highest
  CHECK(problems.size() == 4);                                        // the second reaches below its deck as well
  s.window_h = 3;
  s.workdays = "weekend";
  s.painters = 0;
  const auto more = make_plan(wall, s).problems;
  CHECK(says(more, "leaves no time to paint"));
  CHECK(says(more, "does not name working days"));
  CHECK(says(more, "no painter"));
}

TEST_CASE("the steps of a day follow each other without overlap and count back from the first paint") {
  CalendarSettings s;
  for (const int coats : {1, 2, 3}) {
    const auto steps = day_steps(s, 6, coats);
    for (std::size_t i = 1; i < steps.size(); ++i) {
      CHECK(steps[i].from_h >= steps[i - 1].to_h - 1e-12);
      CHECK(steps[i].to_h > steps[i].from_h);
      if (i > 1) CHECK(steps[i].from_h == Approx(steps[i - 1].to_h).margin(1e-12));
    }
    const auto paint = std::find_if(steps.begin(), steps.end(), [](const DayStep& d) { return d.what == "Paint."; });
    REQUIRE(paint != steps.end());
    CHECK(paint->from_h == 0);
    CHECK(paint->to_h == 6);
    const auto laid =
        std::count_if(steps.begin(), steps.end(), [](const DayStep& d) { return d.what.starts_with("Lay "); });
    CHECK(laid == coats);
    const auto last =
        std::find_if(steps.rbegin(), steps.rend(), [](const DayStep& d) { return d.what.starts_with("Lay "); });
    CHECK(last->to_h == Approx(-s.wait_h));  // the clock starts with the last coat
    CHECK(steps.front().to_h < -8);          // the evening before
    CHECK(steps.front().what.find("wet the arriccio") != std::string::npos);
    CHECK(steps[1].what.find("until it stops drinking. Leave no standing water") != std::string::npos);
    CHECK(steps.back().what.starts_with("Clean"));
  }
}

TEST_CASE("only a coat that follows another waits for the thumb") {
  const auto thumbs = [](int coats) {
    const auto steps = day_steps({}, 6, coats);
    return std::count_if(steps.begin(), steps.end(), [](const DayStep& d) {
      return d.what.find("a thumb marks it but does not sink in") != std::string::npos;
    });
  };
  CHECK(thumbs(1) == 0);
  CHECK(thumbs(2) == 1);
  CHECK(thumbs(3) == 2);
}
