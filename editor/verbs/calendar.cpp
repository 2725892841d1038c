#include <fmt/format.h>

#include <filesystem>

#include "editor/verbs/calendar_file.h"
#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/document/sha256.h"

namespace pontata {

namespace {

constexpr const char* kCaution =
    "Each day: lime burns eyes and skin (goggles, gloves, covered arms); use the scaffold only after handover, loaded "
    "by its tag.";

struct CalendarArguments : ReportArguments {
  std::optional<std::string> ics;
};

Json day_json(const PlannedDay& day, const Giornata& g, const std::string& wall) {
  return {{"id", day.id.value},
          {"number", g.number},
          {"label", label_of(g)},
          {"pontata", day.pontata},
          {"hours", day.hours ? Json(*day.hours) : Json()},
          {"window_h", day.window_h},
          {"fits", day.fits ? Json(*day.fits) : Json()},
          {"date", day.dated ? Json(format_date(day.date)) : Json()},
          {"name", g.name},
          {"wall", wall}};
}

std::string fits_text(const std::optional<bool>& fits) { return !fits ? "-" : *fits ? "yes" : "no"; }

std::vector<Cell> day_cells(const PlannedDay& day, const Giornata& g, const std::string& wall) {
  return {cell(std::string(day.dated ? format_date(day.date) : "done")),
          cell(day.pontata),
          cell(wall),
          cell(static_cast<int>(g.id.value)),
          cell(label_of(g)),
          cell(g.name),
          cell(day.hours, 1),
          cell(day.window_h, 1),
          cell(fits_text(day.fits))};
}

CalendarEvent event_of(const std::string& project, const PlannedDay& day, const Giornata& g, const GiornataPlan& row,
                       const std::string& wall) {
  const std::string file = std::filesystem::path(project).filename().string();
  CalendarEvent event{fmt::format("giornata-{}-{}@pontata", g.id.value, sha256_of(file).substr(0, 16)), day.date,
                      "Giornata " + giornata_label(g), "Wall " + wall + fmt::format(", pontata {}", day.pontata)};
  if (day.hours)
    event.description += fmt::format("\n{} h of painting in a window of {} h", format_fixed(*day.hours, 1),
                                     format_fixed(day.window_h, 1));
  if (row.need) event.description += fmt::format("\n{} L of mortar", format_fixed(row.need->mortar_L, 1));
  event.description += std::string("\n") + kCaution;
  return event;
}

int calendar(const CalendarArguments& a, const Document& doc) {
  Flow flow;
  const auto plan = flow.plan(doc);
  Json json = {{"giornate", Json::array()}, {"order", Json::array()}, {"problems", plan->problems}};
  Table table{{{"date", "date", false},
               {"pontata", "pontata"},
               {"wall", "wall", false},
               {"id", "id"},
               {"number", "no."},
               {"name", "name", false},
               {"hours", "hours"},
               {"window_h", "window h"},
               {"fits", "fits", false}},
              {}};
  std::vector<CalendarEvent> events;
  for (const auto& row : *flow.giornate(doc)) {
    const Giornata& g = *doc.giornata(row.id);
    const std::string& wall = doc.wall(row.wall)->name;
    json["giornate"].push_back(day_json(row.day, g, wall));
    json["order"].push_back(row.id.value);
    table.rows.push_back(day_cells(row.day, g, wall));
    if (row.day.dated) events.push_back(event_of(a.project, row.day, g, row, wall));
  }
  json["caution"] = kCaution;
  std::string text = table.text();
  for (const auto& problem : plan->problems) text += "note: " + problem + "\n";
  text += std::string(kCaution) + "\n";
  std::vector<FileToWrite> also;
  if (a.ics) also.push_back({*a.ics, icalendar_text(events)});
  return report_all(a, doc, json, table, text, std::move(also));
}

}  // namespace

VerbTask calendar_verb(Usage& usage) {
  const auto a = std::make_shared<CalendarArguments>();
  a->declare_json_and_csv(usage);
  usage.text(a->ics, "--ics", "FILE", "also write the days for calendar programs");
  return [a] { return with_report("calendar", *a, [&](const Document& doc, Progress*) { return calendar(*a, doc); }); };
}

}  // namespace pontata
