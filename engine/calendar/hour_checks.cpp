#include <fmt/format.h>

#include <algorithm>

#include "engine/base/units.h"
#include "engine/calendar/plan_steps.h"

namespace pontata {

namespace {

// Hours told beside others that they exceed: in tenths, or finer where these look the same.
std::string told_beside(double hours, double other) {
  return format_fixed(hours, one_place(hours) == one_place(other) ? 2 : 1);
}

// Why a day is too long: its painting, or all of it.
std::string too_long(const PlanCase& c, const PlannedDay& day, bool by_weather) {
  const std::string giornata = capital(c.words.giornata(day.id));
  if (*day.hours > day.window_h)
    return fmt::format(
        "{} needs {} h of painting, but its plaster leaves {} h{}: divide it, or paint it faster or "
        "with help.",
        giornata, told_beside(*day.hours, day.window_h), told_beside(day.window_h, *day.hours),
        by_weather ? " in the weather of " + format_date(day.date) : "");
  const double whole = day.lay_h + c.settings.wait_h + *day.hours + kEveningHours;
  return fmt::format(
      "{} needs {} h from the first coat to the last clean-up, but the longest day has {} h: divide it, "
      "or lay it with help.",
      giornata, told_beside(whole, c.settings.whole_day_h), told_beside(c.settings.whole_day_h, whole));
}

void check_weather_window(const PlanCase& c, const PlannedDay& day, PlanIssues& out) {
  if (!day.weather_window_h || !day.hours || !day.fits.value_or(false) || *day.hours <= *day.weather_window_h) return;
  out.push_back({"over-full",
                 fmt::format("In the weather told for {} the plaster of {} may leave {} h, for {} h of painting (an "
                             "assumption of ours, which only advises).",
                             format_date(day.date), c.words.giornata(day.id), one_place(*day.weather_window_h),
                             one_place(*day.hours)),
                 {day.id},
                 day.date,
                 true});
}

}  // namespace

void check_hours(const PlanCase& c, const Plan& plan, PlanIssues& out) {
  const CalendarSettings& s = c.settings;
  if (!c.rows.open.empty() && painting_window_h(s) <= 0)
    out.push_back({"no-window",
                   fmt::format("A window of {} h less {} h to wait and {} h before its end leaves no time to paint: "
                               "lengthen the window or shorten the waits.",
                               one_place(s.window_h), one_place(s.wait_h), one_place(s.stop_h)),
                   {},
                   {},
                   false});
  if (std::ranges::any_of(plan.days, [](const PlannedDay& d) { return d.dated && !d.hours; }))
    out.push_back({"no-rate",
                   "The painter's rate is not set, so hours are unknown: set how many square metres you paint in an "
                   "hour.",
                   {},
                   {},
                   false});
  for (const PlannedDay& day : plan.days) {
    if (!day.dated) continue;
    if (day.hours && !day.fits.value_or(true))
      out.push_back({"over-full",
                     too_long(c, day, plan.weather_counts && day.weather_window_h.has_value()),
                     {day.id},
                     day.date,
                     false});
    else if (!plan.weather_counts)
      check_weather_window(c, day, out);
  }
}

void check_weather(const PlanCase& c, PlanIssues& out) {
  if (c.facts.weather.empty()) return;
  for (const auto& [date, rows] : c.by_day) {
    const DayWeather* weather = weather_on(c.facts.weather, date);
    if (!weather) continue;
    std::vector<GiornataId> ids;
    for (const PlanRow* r : rows) ids.push_back(r->id());
    for (const WeatherWord& word : weather_words(*weather, c.facts.weather)) {
      const bool frost = word.says.find("frost") != std::string::npos;
      out.push_back({!word.alert ? "heat" : frost ? "frost" : "cold", word.says, ids, date, !word.alert});
    }
  }
}

}  // namespace pontata
