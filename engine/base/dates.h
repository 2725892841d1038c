// Days of the calendar, without clock or time zone.
#pragma once

#include <array>
#include <compare>
#include <string>
#include <string_view>

#include "engine/base/result.h"

namespace pontata {

// A day of the Gregorian calendar; ISO 8601 text "2027-05-04".
struct Date {
  int year = 2027, month = 1, day = 1;
  auto operator<=>(const Date&) const = default;
};
Result<Date> parse_date(std::string_view iso);  // refuses what is no day, such as 2027-02-29
std::string format_date(Date d);
Date add_days(Date d, int days);
// The same day of another month, or that month's last day: 31 January and one month are 28 or 29 February.
Date add_months(Date d, int months);
int days_between(Date from, Date to);  // negative when `to` is earlier
int weekday(Date d);                   // 1 Monday ... 7 Sunday

// ISO weekdays worked: "1-5", "1,3,5", "1-3,6". Index 1 Monday ... 7 Sunday; index 0 unused.
using Workdays = std::array<bool, 8>;
Result<Workdays> parse_workdays(std::string_view text);

}  // namespace pontata
