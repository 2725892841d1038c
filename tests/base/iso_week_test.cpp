#include "engine/base/iso_week.h"

#include <catch2/catch.hpp>
#include <ctime>

using namespace pontata;

TEST_CASE("weeks are those of the C library's ISO 8601 calendar, round every New Year of a century") {
  for (int year = 1999; year <= 2100; ++year)
    for (Date d{year, 12, 24}; d < Date{year + 1, 1, 10}; d = add_days(d, 1)) {
      std::tm tm{};
      tm.tm_year = d.year - 1900, tm.tm_mon = d.month - 1, tm.tm_mday = d.day;
      tm.tm_wday = weekday(d) % 7;
      tm.tm_yday = days_between(Date{d.year, 1, 1}, d);
      char text[16] = {};
      REQUIRE(std::strftime(text, sizeof text, "%G-W%V", &tm) > 0);
      CHECK(format_week(iso_week_of(d)) == text);
      CHECK(weekday(iso_week_of(d).monday) == 1);
    }
}
