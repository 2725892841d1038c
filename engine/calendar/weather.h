// The weather of the working days, and what it does to the time that plaster stays wet.
//
// Based on: P. J. Uno, "Plastic Shrinkage Cracking and Evaporation Formulas", ACI Materials Journal 95-M34, 1998, as
// quoted: E = 5 ([Tc + 18]^2.5 - r [Ta + 18]^2.5) (V + 4) 1e-6.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/dates.h"

namespace pontata {

// Air at the wall.
struct Air {
  double temperature_c = 20;
  double humidity_pct = 65;
  double movement_km_h = 0;  // past the wall; 0 in a closed room
  bool operator==(const Air&) const = default;
};

// One day as foretold or as met.
struct DayWeather {
  Date date;
  Air air;
  std::optional<double> night_low_c;  // of the night that follows
  bool operator==(const DayWeather&) const = default;
};

// Water leaving a wet surface of temperature `surface_c`, kg/m2/h, never below 0.
double evaporation_kg_m2_h(const Air& air, double surface_c);

// How the window of that day compares with the one at `reference`: the water leaves so much slower or faster, held
// between 0.6 and 1.25. That a window scales with the evaporation is an assumption of ours (the arriccio's suction is
// not in it). The plaster is taken as warm as the air.
double weather_factor(const Air& air, const Air& reference);
inline constexpr double kLeastWeatherFactor = 0.6, kMostWeatherFactor = 1.25;
// Said wherever the factor is shown.
std::string_view weather_assumption();
inline constexpr int kDiaryDaysForWeather = 10;  // before so many the factor only advises

// What is to be said of a day, plain words: below 5 °C and frost in the nights that follow are alerts, above 25 °C is a
// note. A lime maker's technical page on renders; frost in the following nights: common practice, no source.
struct WeatherWord {
  bool alert = false;
  std::string says;
};
std::vector<WeatherWord> weather_words(const DayWeather& day, std::span<const DayWeather> all);

// Lines "date,temperature,humidity,air" or with "night" as a fifth: °C, %, km/h, °C. A header line is allowed, columns
// are then found by the words date, temperature, humidity, air, night in any order. Decimal points; a semicolon or tab
// may part columns, and then a decimal comma is taken. Refuses, naming the line, what is no number, humidity outside 0
// to 100, temperatures outside -60 to 60, air outside 0 to 200, a day twice, more than 4000 days. By date.
Result<std::vector<DayWeather>> read_weather(std::string_view csv);

const DayWeather* weather_on(std::span<const DayWeather> days, Date date);  // sorted by date

}  // namespace pontata
