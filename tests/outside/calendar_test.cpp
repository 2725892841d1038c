#include "engine/calendar/calendar.h"

#include <catch2/catch.hpp>
#include <ctime>

using namespace pontata;

TEST_CASE("plaster dry in 10 to 12 hours leaves 7 to 9 hours to paint") {
  // freski.piligrymka.by, technology page: start 1 h after laying, stop 2 h before.
  CalendarSettings settings;
  settings.day_h = 24;
  settings.wait_h = 1;
  settings.stop_h = 2;
  settings.window_h = 10;
  CHECK(painting_window_h(settings) == Approx(7));
  settings.window_h = 12;
  CHECK(painting_window_h(settings) == Approx(9));
}

TEST_CASE("dates and weekdays agree with the C library over four centuries") {
  Date d{1901, 1, 1};
  for (int day = 0; day < 146097; day += 13) {
    std::tm tm{};
    tm.tm_year = d.year - 1900;
    tm.tm_mon = d.month - 1;
    tm.tm_mday = d.day;
    tm.tm_hour = 12;
    REQUIRE(timegm(&tm) != -1);
    REQUIRE(tm.tm_mday == d.day);  // a day that does not exist would have been moved
    REQUIRE((tm.tm_wday + 6) % 7 + 1 == weekday(d));
    tm.tm_mday += 13;
    timegm(&tm);
    d = add_days(d, 13);
    REQUIRE(d == Date{tm.tm_year + 1900, tm.tm_mon + 1, tm.tm_mday});
    REQUIRE(*parse_date(format_date(d)) == d);
  }
}

TEST_CASE("water leaves a wet wall as Uno's formula has it") {
  // P. J. Uno, "Plastic Shrinkage Cracking and Evaporation Formulas", ACI Materials Journal 95-M34 (1998), as quoted:
  // concrete at 31 and air at 27 degrees, 50 %, 19 km/h.
  CHECK(evaporation_kg_m2_h({27, 50, 19}, 31) == Approx(1.152).epsilon(5e-4));
  // The same formula worked by hand for still air.
  CHECK(evaporation_kg_m2_h({20, 65, 0}, 20) == Approx(0.0623).epsilon(1e-3));
  CHECK(evaporation_kg_m2_h({30, 40, 0}, 30) == Approx(0.1916).epsilon(1e-3));
  CHECK(evaporation_kg_m2_h({30, 40, 0}, 30) / evaporation_kg_m2_h({20, 65, 0}, 20) == Approx(3.07).epsilon(2e-3));
  CHECK(evaporation_kg_m2_h({10, 100, 30}, 5) == 0);  // dew
}
