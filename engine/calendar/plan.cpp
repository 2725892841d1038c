#include <algorithm>

#include "engine/calendar/plan_steps.h"

namespace pontata {

namespace {

// Hours and window of a row on its day.
void fill_hours(PlannedDay& day, const PlanCase& c, const PlanRow& row, bool weather_counts) {
  GiornataHours hours = row.input->hours;
  const DayWeather* weather = day.dated ? weather_on(c.facts.weather, day.date) : nullptr;
  if (weather) {
    day.weather_window_h = painting_window_h(c.settings, weather_factor(weather->air, c.settings.reference));
    if (weather_counts) {
      hours.window_h = *day.weather_window_h;
      if (hours.hours) hours.fits = fits_day(hours, c.settings);
    }
  }
  day.hours = hours.hours;
  day.window_h = hours.window_h;
  day.fits = hours.fits;
  day.lay_h = hours.lay_h;
}

PlannedDay planned(const PlanCase& c, const PlanRow& row, bool done, bool weather_counts) {
  PlannedDay day;
  day.id = row.id();
  day.pontata = c.rows.pontata(row);
  day.dated = !done;
  day.painted = done ? row.input->painted : std::nullopt;
  day.date = done ? row.input->painted.value_or(c.settings.start) : *row.date;
  day.deck_m = c.rows.levels[row.deck];
  day.moved = !done && row.input->day.has_value();
  day.for_strike = !done && row.input->behind_scaffold;
  day.attempt = row.input->attempt;
  fill_hours(day, c, row, weather_counts);
  return day;
}

void add_days_of(Plan& plan, const PlanCase& c) {
  for (const PlanRow& r : c.rows.done) plan.days.push_back(planned(c, r, true, plan.weather_counts));
  for (const auto& [date, rows] : c.by_day)
    for (const PlanRow* r : rows) plan.days.push_back(planned(c, *r, false, plan.weather_counts));
}

void check_all(Plan& plan, const PlanCase& c) {
  check_hours(c, plan, plan.issues);
  check_decks(c, plan.issues);
  check_order(c, plan.issues);
  check_moved(c, plan.issues);
  check_day(c, plan.issues);
  check_ground(c, plan.issues);
  check_weather(c, plan.issues);
}

Workdays worked(const CalendarSettings& settings, PlanIssues& issues) {
  const auto parsed = parse_workdays(settings.workdays);
  if (parsed) return *parsed;
  issues.push_back({"workdays", parsed.problem().message() + " Monday to Friday is assumed.", {}, {}, false});
  return {false, true, true, true, true, true, false, false};
}

}  // namespace

std::vector<DayRows> rows_by_day(const PlanRows& rows) {
  std::vector<const PlanRow*> sorted;
  for (const PlanRow& r : rows.open) sorted.push_back(&r);
  std::ranges::stable_sort(sorted, {}, [](const PlanRow* r) { return *r->date; });
  std::vector<DayRows> days;
  for (const PlanRow* r : sorted) {
    if (days.empty() || days.back().date != *r->date) days.push_back({*r->date, {}});
    days.back().rows.push_back(r);
  }
  return days;
}

double painting_window_h(const CalendarSettings& settings) { return painting_window_h(settings, 1); }

double painting_window_h(const CalendarSettings& settings, double factor) {
  return std::max(0.0, std::min(settings.window_h * factor - settings.wait_h - settings.stop_h, settings.day_h));
}

Plan make_plan(std::span<const PlanInput> giornate, const CalendarSettings& settings, const PlanFacts& facts) {
  Plan plan;
  if (giornate.empty()) return plan;
  const WorkingDays days(worked(settings, plan.issues), facts.days_off);
  if (settings.painters < 1)
    plan.issues.push_back({"no-painter", "There is no painter: the plan is made for one.", {}, {}, false});
  plan.weather_counts = settings.window_by_weather && facts.diary_days >= kDiaryDaysForWeather;
  PlanRows rows = plan_rows(giornate, settings, facts);
  const auto pontate = schedule(rows, settings, days);
  const PlanWords words(rows, facts);
  const PlanCase c{rows, settings, facts, days, pontate, words, rows_by_day(rows)};
  add_days_of(plan, c);
  plan.circles = rows.kept.circles;
  check_all(plan, c);
  plan.events = plan_events(c, plan.issues);
  for (const PlanIssue& issue : plan.issues)
    if (!issue.advice) plan.problems.push_back(issue.says);
  return plan;
}

}  // namespace pontata
