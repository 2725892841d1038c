#include <fmt/format.h>

#include "editor/verbs/job_report.h"

namespace pontata {

namespace {

struct WeatherArguments : ReportArguments {
  std::optional<std::string> in;
  std::optional<Date> date;
  std::optional<double> temperature, humidity, air, night;
  std::optional<std::pair<Date, Date>> remove;
};

Json words_json(const std::vector<WeatherWord>& words) {
  Json json = Json::array();
  for (const auto& word : words) json.push_back({{"alert", word.alert}, {"says", word.says}});
  return json;
}

std::string words_text(const std::vector<WeatherWord>& words) {
  std::string text;
  for (const auto& word : words)
    text += (text.empty() ? "" : "; ") + std::string(word.alert ? "ALERT: " : "") + word.says;
  return text;
}

int list(const WeatherArguments& a, const Document& doc) {
  Json json = {{"days", Json::array()}, {"assumption", weather_assumption()}};
  Table table{{{"date", "date", false},
               {"temperature_c", "°C"},
               {"humidity_pct", "%"},
               {"air_km_h", "air km/h"},
               {"night_low_c", "night °C"},
               {"factor", "window ×"},
               {"says", "note", false}},
              {}};
  const auto& days = doc.job().weather;
  for (const DayWeather& day : days) {
    const double factor = weather_factor(day.air, doc.settings.calendar.reference);
    const auto words = weather_words(day, days);
    json["days"].push_back({{"date", format_date(day.date)},
                            {"temperature_c", day.air.temperature_c},
                            {"humidity_pct", day.air.humidity_pct},
                            {"air_km_h", day.air.movement_km_h},
                            {"night_low_c", number_json(day.night_low_c)},
                            {"factor", factor},
                            {"words", words_json(words)}});
    table.rows.push_back({cell(format_date(day.date)), cell(day.air.temperature_c, 1), cell(day.air.humidity_pct, 0),
                          cell(day.air.movement_km_h, 1), cell(day.night_low_c, 1), cell(factor, 2),
                          cell(words_text(words))});
  }
  const std::string text =
      days.empty() ? "No weather is written down.\n" : table.text() + std::string(weather_assumption()) + "\n";
  return report_all(a, doc, json, table, text);
}

Result<Edited> read_in(const WeatherArguments& a, const Document& doc) {
  const auto text = read_file(*a.in);
  if (!text) return text.problem();
  const auto days = read_weather(*text);
  if (!days) {
    Problem problem = days.problem();
    problem.where = problem.where.empty() ? *a.in : *a.in + ": " + problem.where;
    return problem;
  }
  return add_weather(doc, *days);
}

int run(const WeatherArguments& a) {
  const auto two =
      more_than_one({{"--in", a.in.has_value()}, {"--date", a.date.has_value()}, {"--remove", a.remove.has_value()}});
  if (!two.empty()) return wrong_usage("weather", two);
  const bool told = a.temperature || a.humidity || a.air || a.night;
  if (told && !a.date) return wrong_usage("weather", "--date is required with what is told of a day");
  if (a.date && !(a.temperature && a.humidity))
    return wrong_usage("weather", "--date needs --temperature and --humidity");
  if (a.csv && (a.in || a.date || a.remove))
    return wrong_usage("weather", "--csv lists the days; it goes without a change");
  if (a.in) return change_job(a, [&](const Document& doc) { return read_in(a, doc); });
  if (a.remove)
    return change_job(a, [&](const Document& doc) { return remove_weather(doc, a.remove->first, a.remove->second); });
  if (a.date)
    return change_job(a, [&](const Document& doc) {
      const std::vector<DayWeather> day{{*a.date, {*a.temperature, *a.humidity, a.air.value_or(0)}, a.night}};
      return add_weather(doc, day);
    });
  return with_report("weather", a, [&](const Document& doc, Progress*) { return list(a, doc); });
}

}  // namespace

VerbTask weather_verb(Usage& usage) {
  const auto a = std::make_shared<WeatherArguments>();
  a->declare_json_and_csv(usage);
  usage.text(a->in, "--in", "FILE", "lines of date, temperature, humidity, air and night: °C, %, km/h, °C");
  usage.date(a->date, "--date", "one day, typed in");
  usage.number(a->temperature, "--temperature", "its air in °C");
  usage.number(a->humidity, "--humidity", "its humidity in %");
  usage.number(a->air, "--air", "air moving past the wall in km/h; 0 in a closed room");
  usage.number(a->night, "--night", "the lowest of the night that follows, in °C");
  usage.dates(a->remove, "--remove", "take these days out");
  return [a] { return run(*a); };
}

}  // namespace pontata
