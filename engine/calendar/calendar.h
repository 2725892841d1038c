// Hours against the working window, and the order and dates of the giornate.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/result.h"
#include "engine/giornate/measures.h"

namespace pontata {

// A day of the calendar without a clock; ISO text "2027-05-04".
struct Date {
  int year = 2027, month = 1, day = 1;
  auto operator<=>(const Date&) const = default;
};
Result<Date> parse_date(std::string_view iso);
std::string format_date(Date d);
Date add_days(Date d, int days);
int weekday(Date d);  // 1 Monday ... 7 Sunday

// ISO weekdays worked: "1-5", "1,3,5", "1-3,6". Index 1 Monday ... 7 Sunday; index 0 unused.
using Workdays = std::array<bool, 8>;
Result<Workdays> parse_workdays(std::string_view text);

struct CalendarSettings {
  std::optional<double> rate_m2_per_h;  // the painter's own; without it hours are unknown
  double window_h = 10;                 // from the last coat to too dry; 8 to 12 by weather; common practice
  double wait_h = 1;                    // after the last coat before painting
  double stop_h = 2;                    // before the window's end
  double day_h = 10;                    // the painter's longest day of painting
  std::vector<double> levels_m;  // heights of the scaffold decks, rising; empty: one every 2 m from the wall's foot
  Date start{2027, 5, 3};
  std::string workdays = "1-5";  // ISO weekdays: "1-5", "1-6", "1,3,5"
  int painters = 1;
};

// Painting hours that one day leaves: window less wait and stop, at most the painter's day; never below 0.
double painting_window_h(const CalendarSettings& settings);

struct GiornataHours {
  GiornataId id;
  std::optional<double> hours;  // painting; unknown without a rate
  double window_h = 0;          // what the day leaves: min(window - wait - stop, day)
  std::optional<bool> fits;
};

// Painting hours of a giornata: each part of it that lies in a detail zone at the zone's rate (areas on the true
// surface), the rest at the painter's rate. Where detail zones overlap the one listed first counts. Unknown while some
// part of it has no rate.
GiornataHours painting_hours(const ChartedWall& wall, const Network& network, const GiornataMeasure& giornata,
                             std::span<const Zone> zones, const CalendarSettings& settings);

struct PlannedDay {
  GiornataId id;
  int pontata = 1;  // 1 is the highest deck
  Date date;
  std::optional<double> hours;
  double window_h = 0;
  std::optional<bool> fits;
  bool dated = true;  // false once done: finished work comes first in the order, without a date
};
struct Plan {
  std::vector<PlannedDay> days;       // in working order
  std::vector<std::string> problems;  // plain words; empty when the plan holds together
};

struct PlanInput {
  GiornataMeasure measure;
  GiornataHours hours;
  GiornataState state = GiornataState::planned;
  int number = 0;  // used in messages; 0: its place in the order
  std::string part{};
};
// Top down: by pontata from the highest deck, within one from the highest patch down, ties from the left of the chart.
// A giornata belongs to the highest deck that is not above its label place (to the lowest deck when it lies below all).
// Patches whose tops and label places are within a hand's breadth (100 mm) of the row's first are a tie.
// On one deck a giornata from which water runs over the common seam onto a neighbour comes before that neighbour.
// One giornata a working day per painter, no two on a day that share a seam; two painters work on one deck.
// `foot_m`: height of the wall's foot for the decks assumed when no levels are set; by default the lowest giornata's.
Plan make_plan(std::span<const PlanInput> giornate, const CalendarSettings& settings,
               std::optional<double> foot_m = std::nullopt);

// The decks used: levels_m, or one every 2 m from `foot_m` to below `top_m`; rising.
std::vector<double> deck_levels(const CalendarSettings& settings, double foot_m, double top_m);
// Highest deck that is not above `height_m`; 0 is the lowest deck of the rising list.
std::size_t deck_of(std::span<const double> levels, double height_m);

// Clock times of one day, hours before (negative) or after the first paint at 0.
struct DayStep {
  double from_h = 0, to_h = 0;
  std::string what;
};
// From the evening before to the cleaning, in order, none overlapping. The last coat ends wait_h before the first
// paint; smoothing and the transfer of the cartoon lie inside that wait. Durations of the other steps: common practice,
// no source.
std::vector<DayStep> day_steps(const CalendarSettings& settings, double painting_h, int coats);

}  // namespace pontata
