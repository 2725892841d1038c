// Hours against the working window, and the order and dates of the giornate.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
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

struct CalendarSettings {
  std::optional<double> rate_m2_per_h;   // the painter's own; without it hours are unknown
  double window_h = 10;                  // from the last coat to too dry; 8 to 12 by weather (P)
  double wait_h = 1;                     // after the last coat before painting
  double stop_h = 2;                     // before the window's end
  double day_h = 10;                     // the painter's longest day of painting
  std::vector<double> levels_m;          // heights of the scaffold decks, rising; empty: one every 2 m from the wall's foot
  Date start{2027, 5, 3};
  std::string workdays = "1-5";          // ISO weekdays: "1-5", "1-6", "1,3,5"
  int painters = 1;
};

struct GiornataHours {
  GiornataId id;
  std::optional<double> hours;           // painting; unknown without a rate
  double window_h = 0;                   // what the day leaves: min(window - wait - stop, day)
  std::optional<bool> fits;
};

// Painting hours of a giornata: each part of it that lies in a detail zone at the zone's rate (areas on the true surface),
// the rest at the painter's rate.
GiornataHours painting_hours(const ChartedWall& wall, const Network& network, const GiornataMeasure& giornata,
                             std::span<const Zone> zones, const CalendarSettings& settings);

struct PlannedDay {
  GiornataId id;
  int pontata = 1;                       // 1 is the highest deck
  Date date;
  std::optional<double> hours;
  double window_h = 0;
  std::optional<bool> fits;
};
struct Plan {
  std::vector<PlannedDay> days;          // in working order
  std::vector<std::string> problems;     // plain words; empty when the plan holds together
};

struct PlanInput {
  GiornataMeasure measure;
  GiornataHours hours;
  GiornataState state = GiornataState::planned;
};
// Top down: by pontata from the highest deck, within one from the highest patch down, ties from the left of the chart.
// One giornata a working day per painter, no two on a day that share a seam.
Plan make_plan(std::span<const PlanInput> giornate, const CalendarSettings& settings);

// Clock times of one day, hours before (negative) or after the first paint at 0.
struct DayStep {
  double from_h = 0, to_h = 0;
  std::string what;
};
std::vector<DayStep> day_steps(const CalendarSettings& settings, double painting_h, int coats);

}  // namespace pontata
