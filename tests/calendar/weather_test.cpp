#include <catch2/catch.hpp>

#include "engine/calendar/calendar.h"

using namespace pontata;

TEST_CASE("weather is read from lines with or without a header, in any order of columns") {
  const auto plain = read_weather("2027-05-05,22,50\n2027-05-04,18.5,60,3,9\n");
  REQUIRE(plain.ok());
  REQUIRE(plain->size() == 2);
  CHECK((*plain)[0] == DayWeather{{2027, 5, 4}, {18.5, 60, 3}, 9});
  CHECK((*plain)[1] == DayWeather{{2027, 5, 5}, {22, 50, 0}, std::nullopt});
  const auto named = read_weather(
      "\xef\xbb\xbfhumidity %;Date;Night low;Temperature °C\r\n60;2027-05-04;-1,5;18,5\r\n\r\n# a remark\r\n");
  REQUIRE(named.ok());
  CHECK(named->front() == DayWeather{{2027, 5, 4}, {18.5, 60, 0}, -1.5});
}

TEST_CASE("weather that is none is refused with its line") {
  const auto refused = [](std::string_view csv, std::string_view says) {
    const auto read = read_weather(csv);
    REQUIRE_FALSE(read.ok());
    INFO(read.problem().message());
    CHECK(read.problem().message().find(says) != std::string::npos);
  };
  refused("", "no day");
  refused("date,temperature,humidity\n", "no day");
  refused("2027-05-04,18\n", "line 1");
  refused("2027-05-04,18,60\n2027-05-32,18,60\n", "line 2");
  refused("2027-05-04,nan,60\n", "temperature");
  refused("2027-05-04,18,101\n", "humidity");
  refused("2027-05-04,18,60,-1\n", "air");
  refused("2027-05-04,18,60\n2027-05-04,18,60\n", "twice");
  refused("date,humidity\n2027-05-04,60\n", "temperature is missing");
}

TEST_CASE("cold and frost are alerts, heat is a note") {
  const std::vector<DayWeather> days{{{2027, 11, 1}, {12, 60, 0}, 4},
                                     {{2027, 11, 2}, {12, 60, 0}, 1},
                                     {{2027, 11, 3}, {4.9, 60, 0}, -2},
                                     {{2027, 11, 9}, {25.1, 60, 0}, std::nullopt},
                                     {{2027, 11, 10}, {25, 60, 0}, 12}};
  const auto alerts = [&](std::size_t i) {
    std::vector<bool> kinds;
    for (const auto& word : weather_words(days[i], days)) kinds.push_back(word.alert);
    return kinds;
  };
  CHECK(alerts(0) == std::vector{true});        // frost two nights later
  CHECK(alerts(2) == std::vector{true, true});  // cold, and frost that night
  CHECK(alerts(3) == std::vector{false});
  CHECK(alerts(4).empty());
}

TEST_CASE("the window follows the weather within its limits and leaves wait, stop and the painter's day") {
  const Air usual;
  CHECK(weather_factor(usual, usual) == Approx(1));
  CHECK(weather_factor({30, 20, 15}, usual) == kLeastWeatherFactor);
  CHECK(weather_factor({8, 95, 0}, usual) == kMostWeatherFactor);
  CHECK(weather_factor({20, 100, 0}, usual) == kMostWeatherFactor);  // nothing leaves at all
  CHECK(weather_factor(usual, {20, 100, 0}) == kLeastWeatherFactor);
  // Drier, warmer or windier never lengthens it.
  double before = 2;
  for (double t = 5; t <= 35; t += 1) {
    const double now = weather_factor({t, 65, 0}, usual);
    CHECK(now <= before);
    before = now;
  }
  CalendarSettings s;
  s.window_h = 10;
  CHECK(painting_window_h(s, 1.25) == Approx(9.5));
  CHECK(painting_window_h(s, 0.6) == Approx(3));
  s.day_h = 8;
  CHECK(painting_window_h(s, 1.25) == Approx(8));
}
