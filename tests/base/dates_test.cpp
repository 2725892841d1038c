#include "engine/base/dates.h"

#include <catch2/catch.hpp>

using namespace pontata;

TEST_CASE("dates read back and refuse what is no day") {
  const auto d = parse_date("2027-05-04");
  REQUIRE(d.ok());
  CHECK(*d == Date{2027, 5, 4});
  CHECK(format_date(*d) == "2027-05-04");
  CHECK(parse_date("2028-02-29").ok());
  for (const char* text : {"", "2027-02-29", "2027-13-01", "2027-00-10", "2027-5-4", "04-05-2027", "2027-05-04 ",
                           "2027/05/04", "0000-01-01", "-027-05-04", "2100-02-29"}) {
    INFO(text);
    CHECK_FALSE(parse_date(text).ok());
  }
}

TEST_CASE("weekdays as the calendar has them") {
  CHECK(weekday({2000, 1, 1}) == 6);  // a Saturday: ISO 8601 gives 2000-01-01 as 1999-W52-6
  CHECK(weekday({2005, 1, 1}) == 6);  // ISO 8601: 2004-W53-6
  CHECK(weekday({2007, 1, 1}) == 1);  // ISO 8601: 2007-W01-1
  CHECK(weekday({2027, 5, 3}) == 1);
}

TEST_CASE("days add across months, years and leap days") {
  CHECK(add_days({2027, 12, 31}, 1) == Date{2028, 1, 1});
  CHECK(add_days({2028, 2, 28}, 1) == Date{2028, 2, 29});
  CHECK(add_days({2100, 2, 28}, 1) == Date{2100, 3, 1});
  CHECK(add_days({2027, 3, 1}, -1) == Date{2027, 2, 28});
  Date d{2027, 1, 1};
  for (int i = 0; i < 1000; ++i) {
    const Date next = add_days(d, 1);
    REQUIRE(next > d);
    REQUIRE(weekday(next) == weekday(d) % 7 + 1);
    d = next;
  }
  CHECK(d == add_days({2027, 1, 1}, 1000));
}

TEST_CASE("months add to the same day, or to the last one of a shorter month") {
  CHECK(add_months({2027, 1, 31}, 1) == Date{2027, 2, 28});
  CHECK(add_months({2028, 1, 31}, 1) == Date{2028, 2, 29});
  CHECK(add_months({2027, 11, 15}, 14) == Date{2029, 1, 15});
  CHECK(add_months({2027, 3, 31}, -13) == Date{2026, 2, 28});
  CHECK(days_between({2027, 12, 31}, {2028, 3, 1}) == 61);
  CHECK(days_between({2028, 3, 1}, {2027, 12, 31}) == -61);
}

TEST_CASE("working days are ISO numbers and ranges") {
  const auto week = parse_workdays("1-5");
  REQUIRE(week.ok());
  CHECK((*week)[5]);
  CHECK_FALSE((*week)[6]);
  const auto some = parse_workdays("1, 3,5-6");
  REQUIRE(some.ok());
  CHECK(*some == Workdays{false, true, false, true, false, true, true, false});
  for (const char* text : {"", "0", "8", "5-1", "1-", "1,,2", "Mon", "1-5-6", "1,"}) {
    INFO(text);
    CHECK_FALSE(parse_workdays(text).ok());
  }
}
