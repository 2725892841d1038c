#include "editor/stages/weather_section.h"

#include <fmt/format.h>
#include <imgui.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/document/job_edits.h"

namespace pontata {
namespace {

constexpr std::uintmax_t kMostBytes = 4 << 20;  // of a file: ten years of days are far less

Result<std::vector<DayWeather>> read_weather_file(const std::string& path) {
  std::error_code failed;
  const auto size = std::filesystem::file_size(path, failed);
  if (failed) return Problem{"the file cannot be read", path, "Choose a file that is there."};
  if (size > kMostBytes) return Problem{"the file is too long for a list of days", path, "Choose a CSV file."};
  std::ifstream in(path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  auto days = read_weather(text.str());
  if (!days) return Problem{days.problem().what, path, days.problem().remedy};
  return days;
}

}  // namespace

void WeatherSection::draw(Workbench& bench, const std::optional<Date>& day) {
  table(bench);
  if (day != taken_ && day) {
    date_ = format_date(*day);
    if (const DayWeather* told = weather_on(bench.session.document()->job().weather, *day)) take(*told);
  }
  taken_ = day;
  fields_.edit(
      bench,
      {"weather.date", "Day", "", "", "Such as 2027-05-04; a click in the calendar fills it in", FieldKind::date, {}},
      date_);
  const auto number = [&](const char* id, const char* name, const char* unit, const char* tip, std::string& value) {
    fields_.edit(bench, {id, name, "", unit, tip, FieldKind::number, {}}, value);
  };
  number("weather.temperature", "Temperature", "°C", "Of the air at the wall while one paints", temperature_);
  number("weather.humidity", "Humidity", "%", "Of the air at the wall", humidity_);
  number("weather.air", "Air movement", "km/h", "Past the wall; 0 in a closed room", air_);
  number("weather.night", "Night's low", "°C", "Of the night that follows; empty: not known", night_);
  if (ImGui::Button("Write this day down")) add(bench);
  control(bench, "weather.add");
  same_row("Read from CSV…");
  if (ImGui::Button("Read from CSV…")) ask_file(bench);
  control(bench, "weather.csv");
  if (ImGui::IsItemHovered())
    ImGui::SetTooltip("Lines of date, temperature °C, humidity %%, air km/h and, if you like, the night's low °C");
}

void WeatherSection::table(Workbench& bench) {
  const DocumentRef document = bench.session.document();
  const auto& days = document->job().weather;
  const CalendarSettings& calendar = document->settings.calendar;
  if (days.empty()) return quiet_text("No weather told yet. It only advises: hours are planned by the window above.");
  constexpr auto kFlags = ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_ScrollY |
                          ImGuiTableFlags_SizingStretchProp;
  if (!ImGui::BeginTable("weather", 6, kFlags, ImVec2(0, table_height(std::min<std::size_t>(days.size(), 8), 1.0f))))
    return;
  ImGui::TableSetupScrollFreeze(0, 1);
  for (const char* column : {"Day", "°C", "%", "km/h", "night °C", "window h"}) ImGui::TableSetupColumn(column);
  ImGui::TableHeadersRow();
  ImGuiListClipper clipper;
  clipper.Begin(static_cast<int>(days.size()));
  while (clipper.Step())
    for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i) {
      const DayWeather& day = days[static_cast<std::size_t>(i)];
      const std::string date = format_date(day.date);
      ImGui::TableNextRow();
      ImGui::TableNextColumn();
      if (ImGui::Selectable(date.c_str(), date == date_, ImGuiSelectableFlags_SpanAllColumns)) take(day);
      control(bench, "weather." + date);
      const auto words = ImGui::IsItemHovered() ? weather_words(day, days) : std::vector<WeatherWord>();
      if (!words.empty()) ImGui::SetTooltip("%s", words.front().says.c_str());
      const double window = painting_window_h(calendar, weather_factor(day.air, calendar.reference));
      for (const std::string& cell :
           {shown(day.air.temperature_c, 1, ""), shown(day.air.humidity_pct, 0, ""),
            shown(day.air.movement_km_h, 1, ""), shown(day.night_low_c, 1, ""), shown(window, 1, "")}) {
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(cell.c_str());
      }
    }
  ImGui::EndTable();
  const auto day = parse_date(date_);
  if (!day || !weather_on(days, *day)) return;
  if (ImGui::SmallButton(("✗ Take " + date_ + " away###weather.remove").c_str()))
    commit(bench, remove_weather(*document, *day, *day));
  control(bench, "weather.remove");
}

void WeatherSection::take(const DayWeather& day) {
  date_ = format_date(day.date);
  temperature_ = format_number(day.air.temperature_c);
  humidity_ = format_number(day.air.humidity_pct);
  air_ = format_number(day.air.movement_km_h);
  night_ = day.night_low_c ? format_number(*day.night_low_c) : "";
}

void WeatherSection::add(Workbench& bench) {
  // The lines of a file are held to the same ranges.
  const auto read = read_weather("date;temperature;humidity;air;night\n" + date_ + ";" + temperature_ + ";" +
                                 humidity_ + ";" + (air_.empty() ? "0" : air_) + ";" + night_);
  if (!read) {
    Problem problem = read.problem();
    const std::size_t line = problem.what.find(": ");
    if (problem.what.rfind("line ", 0) == 0 && line != std::string::npos) problem.what.erase(0, line + 2);
    problem.remedy = "Give the day as 2027-05-04, the temperature in °C, the humidity in % and the air in km/h.";
    return bench.session.complain(problem);
  }
  commit(bench, add_weather(*bench.session.document(), *read));
}

void WeatherSection::ask_file(Workbench& bench) {
  bench.browser.ask({FileBrowser::Want::open_file,
                     "Weather, day by day",
                     {".csv", ".txt"},
                     "",
                     [&bench](const std::string& path) {
                       const auto days = read_weather_file(path);
                       if (!days) return bench.session.complain(days.problem());
                       commit(bench, add_weather(*bench.session.document(), *days));
                     }},
                    bench.settings.folder);
}

}  // namespace pontata
