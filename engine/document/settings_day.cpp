// The keys of the day, its window and the site.
#include "engine/document/record_names.h"
#include "engine/document/setting_makers.h"

namespace pontata {

using namespace making;

namespace {

void add_day(std::vector<Setting>& keys) {
  keys.push_back(rate(
      "rate", "area painted in an hour, the painter's own; without it hours are unknown",
      [](auto& s) -> auto& { return s.calendar.rate_m2_per_h; }));
  keys.push_back(number(
      "window.base", "h", {1, 72}, "from the last coat until the plaster is too dry to take paint",
      [](auto& s) -> auto& { return s.calendar.window_h; }));
  keys.push_back(number(
      "window.wait", "h", {0, 24}, "after the last coat before painting begins",
      [](auto& s) -> auto& { return s.calendar.wait_h; }));
  keys.push_back(number(
      "window.stop", "h", {0, 24}, "before the window's end when painting stops",
      [](auto& s) -> auto& { return s.calendar.stop_h; }));
  keys.push_back(number(
      "day.hours", "h", {0.5, 24}, "the longest day of painting", [](auto& s) -> auto& { return s.calendar.day_h; }));
  keys.push_back(whole(
      "painters", {1, 50}, "how many giornate may be painted on one day",
      [](auto& s) -> auto& { return s.calendar.painters; }));
  keys.push_back(written(
      "start", "date", "first day of painting", [](auto& s) -> auto& { return s.calendar.start; },
      [](const std::string& text) { return parse_date(text); }, format_date));
  keys.push_back(written(
      "workdays", "", "days worked, 1 Monday to 7 Sunday: 1-5, 1-6 or 1,3,5",
      [](auto& s) -> auto& { return s.calendar.workdays; }, read_workdays, [](const std::string& s) { return s; }));
  keys.push_back(written(
      "pontata.levels", "m", "heights of the scaffold decks, rising; auto: one every 2 m from the wall's foot",
      [](auto& s) -> auto& { return s.calendar.levels_m; }, read_levels, write_levels));
}

void add_rates(std::vector<Setting>& keys) {
  for (const Subject subject : {Subject::faces, Subject::drapery, Subject::architecture, Subject::background}) {
    const std::string name(subject_name(subject));
    keys.push_back(rate(
        "rate.of." + name,
        "area painted in an hour of " + name + ", the painter's own; may be given as 2.5 h for 0.08 m2",
        [subject](auto& s) -> auto& { return s.calendar.subject_rates[static_cast<std::size_t>(subject)]; }));
  }
  keys.push_back(rate(
      "rate.laying", "area plastered in an hour, all coats of intonaco together; without it laying takes no time",
      [](auto& s) -> auto& { return s.calendar.lay_rate_m2_per_h; }));
  keys.push_back(number(
      "day.whole", "h", {1, 24}, "the longest day from the first coat to the last clean-up",
      [](auto& s) -> auto& { return s.calendar.whole_day_h; }));
}

void add_weather(std::vector<Setting>& keys) {
  keys.push_back(number(
      "window.temperature", "°C", {-10, 45}, "of the air at which the window holds",
      [](auto& s) -> auto& { return s.calendar.reference.temperature_c; }));
  keys.push_back(number(
      "window.humidity", "%", {0, 100}, "of the air at which the window holds",
      [](auto& s) -> auto& { return s.calendar.reference.humidity_pct; }));
  keys.push_back(number(
      "window.air", "km/h", {0, 100}, "movement of the air at which the window holds",
      [](auto& s) -> auto& { return s.calendar.reference.movement_km_h; }));
  keys.push_back(written(
      "window.weather", "", "yes: the window follows each day's weather, once ten days of the diary stand behind it",
      [](auto& s) -> auto& { return s.calendar.window_by_weather; }, read_yes, write_yes));
}

void add_site(std::vector<Setting>& keys) {
  keys.push_back(written(
      "hand", "", "the hand that paints: right or left; work goes away from it",
      [](auto& s) -> auto& { return s.calendar.left_handed; }, read_left, write_left));
  keys.push_back(written(
      "hand.against", "", "yes: work goes toward the painting hand instead",
      [](auto& s) -> auto& { return s.calendar.against_hand; }, read_yes, write_yes));
  keys.push_back(written(
      "pontata.reach", "m", "that a painter reaches above a deck: one number, or one a deck from the lowest",
      [](auto& s) -> auto& { return s.calendar.reach_m; },
      [](const std::string& text) { return read_deck_numbers(text, "reach", 0.5, 5); }, write_deck_numbers));
  keys.push_back(written(
      "pontata.load", "kg", "that a deck carries, by its tag: one number, or one a deck from the lowest; or none",
      [](auto& s) -> auto& { return s.calendar.load_kg; },
      [](const std::string& text) { return read_deck_numbers(text, "load", 1, 100000); }, write_deck_numbers));
  keys.push_back(whole(
      "scaffold.move", {0, 60}, "working days to set the scaffold for the next pontata",
      [](auto& s) -> auto& { return s.calendar.move_days; }));
  keys.push_back(whole(
      "scaffold.strike", {0, 60}, "working days to take a deck's ties and standards away",
      [](auto& s) -> auto& { return s.calendar.strike_days; }));
  keys.push_back(whole(
      "curing.days", {0, 3650}, "of the arriccio before it is signed for and painted on",
      [](auto& s) -> auto& { return s.calendar.curing_days; }));
  keys.push_back(whole(
      "secco.days", {0, 3650}, "after painting before work is finished dry",
      [](auto& s) -> auto& { return s.calendar.secco_days; }));
  keys.push_back(written(
      "plasterer.area", "m²", "that one plasterer lays of a morning; none: enough for all painters",
      [](auto& s) -> auto& { return s.calendar.plasterer_m2; }, read_area, write_rate));
  keys.back().kind = SettingKind::number;
}

}  // namespace

void add_day_settings(std::vector<Setting>& keys) {
  add_day(keys);
  add_rates(keys);
  add_weather(keys);
  add_site(keys);
}

}  // namespace pontata
