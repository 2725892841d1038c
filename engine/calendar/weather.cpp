#include "engine/calendar/weather.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/base/units.h"

namespace pontata {

namespace {

constexpr double kColdest = 5, kWarmest = 25;  // °C, a lime maker's technical page on renders
constexpr int kNightsThatFollow = 3;           // in which frost still harms; common practice, no source
constexpr std::size_t kMostDays = 4000;

// [t + 18]^2.5; the formula is not meant for colder air.
double power(double celsius) { return std::pow(std::max(0.0, celsius + 18), 2.5); }

}  // namespace

double evaporation_kg_m2_h(const Air& air, double surface_c) {
  const double difference = power(surface_c) - air.humidity_pct / 100 * power(air.temperature_c);
  return std::max(0.0, 5 * difference * (air.movement_km_h + 4) * 1e-6);
}

double weather_factor(const Air& air, const Air& reference) {
  const double here = evaporation_kg_m2_h(air, air.temperature_c);
  const double there = evaporation_kg_m2_h(reference, reference.temperature_c);
  if (!(here > 0) || !(there > 0)) return here > 0 ? kLeastWeatherFactor : there > 0 ? kMostWeatherFactor : 1;
  return std::clamp(there / here, kLeastWeatherFactor, kMostWeatherFactor);
}

std::string_view weather_assumption() {
  return "That the window follows the evaporation is our assumption (what the arriccio drinks is not in it): it only "
         "advises until ten days of the diary stand behind it.";
}

std::vector<WeatherWord> weather_words(const DayWeather& day, std::span<const DayWeather> all) {
  std::vector<WeatherWord> words;
  const std::string on = format_date(day.date);
  const std::string degrees = format_number(std::round(10 * day.air.temperature_c) / 10) + " °C";
  if (day.air.temperature_c < kColdest)
    words.push_back({true, fmt::format("{}: {} is below 5 °C, lime does not set: lay nothing.", on, degrees)});
  if (day.air.temperature_c > kWarmest)
    words.push_back(
        {false, fmt::format("{}: {} is above 25 °C: the plaster dries fast, shade and damp the wall.", on, degrees)});
  for (int night = 0; night < kNightsThatFollow; ++night) {
    const DayWeather* then = weather_on(all, add_days(day.date, night));
    if (!then || !then->night_low_c || *then->night_low_c > 0) continue;
    words.push_back(
        {true, fmt::format("{}: frost in the night after {} ({} °C) bursts fresh plaster: wait, or keep the "
                           "wall from freezing.",
                           on, format_date(then->date), format_number(*then->night_low_c))});
    break;
  }
  return words;
}

const DayWeather* weather_on(std::span<const DayWeather> days, Date date) {
  const auto there = std::ranges::lower_bound(days, date, {}, &DayWeather::date);
  return there != days.end() && there->date == date ? &*there : nullptr;
}

namespace {

enum Column { kDate, kTemperature, kHumidity, kAir, kNight, kColumns };
constexpr std::array<std::string_view, kColumns> kWords{"date", "temperature", "humidity", "air", "night"};

std::string_view trimmed(std::string_view s) {
  while (!s.empty() && (s.front() == ' ' || s.front() == '"')) s.remove_prefix(1);
  while (!s.empty() && (s.back() == ' ' || s.back() == '"' || s.back() == '\r')) s.remove_suffix(1);
  return s;
}

char parting_of(std::string_view text) {
  const std::string_view line = text.substr(0, text.find('\n'));
  for (const char c : {';', '\t'})
    if (line.find(c) != std::string_view::npos) return c;
  return ',';
}

std::vector<std::string_view> cells_of(std::string_view line, char parting) {
  std::vector<std::string_view> cells;
  while (true) {
    const std::size_t end = line.find(parting);
    cells.push_back(trimmed(line.substr(0, end)));
    if (end == std::string_view::npos) return cells;
    line.remove_prefix(end + 1);
  }
}

Problem bad_line(int line, std::string_view what) {
  return {fmt::format("line {}: {}", line, what), "",
          "Write date,temperature,humidity,air movement and, if you like, the night's low: 2027-05-04,18,60,3,9 in °C, "
          "% and km/h."};
}

using Places = std::array<int, kColumns>;  // of each column in a line; -1: none

// Where the columns are, when the line is a header.
std::optional<Places> header(const std::vector<std::string_view>& cells) {
  Places places;
  places.fill(-1);
  for (std::size_t i = 0; i < cells.size(); ++i)
    for (std::size_t c = 0; c < kColumns; ++c) {
      std::string cell(cells[i]);
      std::ranges::transform(cell, cell.begin(), [](unsigned char x) { return static_cast<char>(std::tolower(x)); });
      if (cell.starts_with(kWords[c])) places[c] = static_cast<int>(i);
    }
  return places[kDate] < 0 ? std::nullopt : std::optional(places);
}

struct Limits {
  double least, greatest;
  std::string_view what;
};

Result<double> number_in(const std::vector<std::string_view>& cells, int place, const Limits& limits, int line) {
  if (place < 0 || static_cast<std::size_t>(place) >= cells.size())
    return bad_line(line, fmt::format("the {} is missing", limits.what));
  const auto value = parse_number(std::string(cells[static_cast<std::size_t>(place)]));
  if (!value || *value < limits.least || *value > limits.greatest)
    return bad_line(line, fmt::format("\"{}\" is no {} from {} to {}", cells[static_cast<std::size_t>(place)],
                                      limits.what, limits.least, limits.greatest));
  return *value;
}

Result<DayWeather> read_day(const std::vector<std::string_view>& cells, const Places& places, int line) {
  DayWeather day;
  const auto date =
      parse_date(static_cast<std::size_t>(places[kDate]) < cells.size() ? cells[static_cast<std::size_t>(places[kDate])]
                                                                        : std::string_view{});
  if (!date) return bad_line(line, date.problem().what);
  day.date = *date;
  const auto temperature = number_in(cells, places[kTemperature], {-60, 60, "temperature"}, line);
  if (!temperature) return temperature.problem();
  const auto humidity = number_in(cells, places[kHumidity], {0, 100, "humidity"}, line);
  if (!humidity) return humidity.problem();
  day.air = {*temperature, *humidity, 0};
  const auto told = [&](int place) {
    return place >= 0 && static_cast<std::size_t>(place) < cells.size() &&
           !cells[static_cast<std::size_t>(place)].empty();
  };
  if (told(places[kAir])) {
    const auto air = number_in(cells, places[kAir], {0, 200, "movement of the air"}, line);
    if (!air) return air.problem();
    day.air.movement_km_h = *air;
  }
  if (told(places[kNight])) {
    const auto night = number_in(cells, places[kNight], {-60, 60, "night's low"}, line);
    if (!night) return night.problem();
    day.night_low_c = *night;
  }
  return day;
}

}  // namespace

Result<std::vector<DayWeather>> read_weather(std::string_view csv) {
  std::vector<DayWeather> days;
  if (csv.starts_with("\xef\xbb\xbf")) csv.remove_prefix(3);
  const char parting = parting_of(csv);
  Places places{0, 1, 2, 3, 4};
  for (int line = 1; !csv.empty(); ++line) {
    const std::size_t end = std::min(csv.find('\n'), csv.size());
    const std::string_view text = trimmed(csv.substr(0, end));
    csv.remove_prefix(std::min(end + 1, csv.size()));
    if (text.empty() || text.front() == '#') continue;
    const auto cells = cells_of(text, parting);
    if (const auto named = header(cells); named && days.empty()) {
      places = *named;
      continue;
    }
    const auto day = read_day(cells, places, line);
    if (!day) return day.problem();
    days.push_back(*day);
    if (days.size() > kMostDays) return bad_line(line, fmt::format("more than {} days", kMostDays));
  }
  if (days.empty()) return bad_line(1, "there is no day in it");
  std::ranges::sort(days, {}, &DayWeather::date);
  const auto twice = std::ranges::adjacent_find(days, {}, &DayWeather::date);
  if (twice != days.end())
    return Problem{format_date(twice->date) + " stands there twice", "", "Leave one line for each day."};
  return days;
}

}  // namespace pontata
