#include "engine/base/iso_week.h"

#include <fmt/format.h>

namespace pontata {

IsoWeek iso_week_of(Date d) {
  const Date monday = add_days(d, 1 - weekday(d));
  const int year = add_days(monday, 3).year;  // its Thursday's
  return {year, 1 + days_between(Date{year, 1, 1}, add_days(monday, 3)) / 7, monday};
}

std::string format_week(const IsoWeek& week) { return fmt::format("{}-W{:02}", week.year, week.week); }

}  // namespace pontata
