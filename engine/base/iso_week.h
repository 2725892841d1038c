// Weeks of the calendar by ISO 8601: they begin on Monday, week 1 holds the year's first Thursday.
#pragma once

#include "engine/base/dates.h"

namespace pontata {

struct IsoWeek {
  int year = 2027, week = 1;  // the year the week belongs to, which around New Year may not be the day's
  Date monday;
  auto operator<=>(const IsoWeek&) const = default;
};
IsoWeek iso_week_of(Date d);
std::string format_week(const IsoWeek& week);  // "2027-W18"

}  // namespace pontata
