#include "editor/verbs/calendar_report.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/base/units.h"

namespace pontata {

namespace {

template <class T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json();
}
Json date_or_null(const std::optional<Date>& date) { return date ? Json(format_date(*date)) : Json(); }

// Of painted ones the day is known where the diary tells it.
std::optional<Date> told_day(const PlannedDay& day) { return day.dated ? std::optional(day.date) : day.painted; }

Json day_json(const PlannedDay& day, const Giornata& g, const std::string& wall) {
  return {{"id", day.id.value},
          {"number", g.number},
          {"label", label_of(g)},
          {"pontata", day.pontata},
          {"hours", or_null(day.hours)},
          {"window_h", day.window_h},
          {"fits", or_null(day.fits)},
          {"date", date_or_null(told_day(day))},
          {"done", !day.dated},
          {"name", g.name},
          {"wall", wall},
          {"lay_h", day.lay_h},
          {"deck_m", day.deck_m},
          {"weather_window_h", or_null(day.weather_window_h)},
          {"moved", day.moved},
          {"for_strike", day.for_strike},
          {"attempt", day.attempt}};
}

std::string wall_name(const Document& doc, WallId wall) {
  const WallItem* item = wall ? doc.wall(wall) : nullptr;
  return item ? item->name : "";
}

Json id_or_null(GiornataId id) { return id ? Json(id.value) : Json(); }

Json event_json(const Document& doc, const PlanEvent& event) {
  return {{"kind", event_name(event.kind)},
          {"from", format_date(event.from)},
          {"to", format_date(event.to)},
          {"says", event.says},
          {"pontata", event.pontata > 0 ? Json(event.pontata) : Json()},
          {"wall", event.wall ? Json(wall_name(doc, event.wall)) : Json()},
          {"giornata", id_or_null(event.giornata)}};
}

Json ids_json(const std::vector<GiornataId>& ids) {
  Json list = Json::array();
  for (const GiornataId id : ids) list.push_back(id.value);
  return list;
}

Json issue_json(const PlanIssue& issue) {
  return {{"rule", issue.rule},
          {"says", issue.says},
          {"giornate", ids_json(issue.giornate)},
          {"date", date_or_null(issue.date)},
          {"advice", issue.advice}};
}

// Each seam once: which giornata's edge is cut first, and which is pressed against it.
void add_laps(Json& laps, const GiornataPlan& row) {
  for (const Lap& lap : row.laps) {
    const bool cut = lap.side == LapSide::cut_first;
    if (!cut && (lap.side == LapSide::pressed || lap.other < row.id)) continue;  // told from the other side
    laps.push_back({{"giornate", lap.other ? ids_json({row.id, lap.other}) : ids_json({row.id})},
                    {"cut_first", cut ? Json(row.id.value) : Json()},
                    {"pressed", cut ? id_or_null(lap.other) : Json()},
                    {"wet_together", lap.side == LapSide::one_wet},
                    {"length_m", lap.length_m}});
  }
}

std::string yes_no(bool yes) { return yes ? "yes" : "no"; }
std::string fits_text(const std::optional<bool>& fits) { return fits ? yes_no(*fits) : "-"; }

std::vector<Cell> day_cells(const PlannedDay& day, const Giornata& g, const std::string& wall) {
  const auto date = told_day(day);
  return {{date        ? format_date(*date)
           : day.dated ? ""
                       : "done",
           date ? format_date(*date) : "done"},
          cell(day.pontata),
          cell(wall),
          cell(static_cast<int>(g.id.value)),
          cell(label_of(g)),
          cell(g.name),
          cell(day.hours, 1),
          cell(day.window_h, 1),
          cell(fits_text(day.fits)),
          cell(day.weather_window_h, 1),
          cell(day.lay_h, 1),
          {yes_no(day.moved), day.moved        ? "by hand"
                              : day.for_strike ? "at the strike"
                                               : ""},
          {yes_no(day.for_strike), ""},
          {std::to_string(day.attempt), ""},
          {day.dated ? "giornata" : "done", ""},
          {date ? format_date(*date) : "", ""},
          {"", ""}};
}

std::vector<Cell> event_cells(const Document& doc, const PlanEvent& event) {
  const auto plain = [](const std::string& text) { return Cell{text, text}; };
  std::vector<Cell> cells(17, plain(""));
  cells[0] = plain(format_date(event.from));
  if (event.pontata > 0) cells[1] = cell(event.pontata);
  cells[2] = plain(wall_name(doc, event.wall));
  if (event.giornata) cells[3] = cell(static_cast<int>(event.giornata.value));
  cells[14] = plain(std::string(event_name(event.kind)));
  cells[15] = plain(format_date(event.to));
  cells[16] = plain(event.says);
  return cells;
}

}  // namespace

std::string_view day_caution() {
  return "Each day: lime burns eyes and skin (goggles, gloves, covered arms); use the scaffold only after handover, "
         "loaded by its tag.";
}

std::string_view event_name(PlanEventKind kind) {
  switch (kind) {
    case PlanEventKind::scaffold_move:
      return "scaffold-move";
    case PlanEventKind::strike:
      return "strike";
    case PlanEventKind::day_off:
      return "day-off";
    case PlanEventKind::arriccio:
      return "arriccio";
    case PlanEventKind::sign_off:
      return "sign-off";
    case PlanEventKind::secco:
      break;
  }
  return "secco";
}

Json calendar_json(const Document& doc, const Plan& plan, const std::vector<GiornataPlan>& rows) {
  Json json = {{"giornate", Json::array()}, {"order", Json::array()},
               {"problems", plan.problems}, {"events", Json::array()},
               {"issues", Json::array()},   {"circles", Json::array()},
               {"laps", Json::array()},     {"weather_counts", plan.weather_counts}};
  for (const auto& row : rows) {
    json["giornate"].push_back(day_json(row.day, *doc.giornata(row.id), doc.wall(row.wall)->name));
    json["order"].push_back(row.id.value);
    add_laps(json["laps"], row);
  }
  for (const PlanEvent& event : plan.events) json["events"].push_back(event_json(doc, event));
  for (const PlanIssue& issue : plan.issues) json["issues"].push_back(issue_json(issue));
  for (const auto& circle : plan.circles) json["circles"].push_back(ids_json(circle));
  json["caution"] = day_caution();
  return json;
}

Table calendar_table(const Document& doc, const Plan& plan, const std::vector<GiornataPlan>& rows) {
  Table table{{{"date", "date", false},
               {"pontata", "pontata"},
               {"wall", "wall", false},
               {"id", "id"},
               {"number", "no."},
               {"name", "name", false},
               {"hours", "hours"},
               {"window_h", "window h"},
               {"fits", "fits", false},
               {"weather_window_h", "by weather h"},
               {"lay_h", "laying h"},
               {"moved", "set", false},
               {"for_strike", "", false},
               {"attempt", ""},
               {"kind", "", false},
               {"to", "", false},
               {"says", "", false}},
              {}};
  for (const auto& row : rows)
    table.rows.push_back(day_cells(row.day, *doc.giornata(row.id), doc.wall(row.wall)->name));
  for (const PlanEvent& event : plan.events) table.rows.push_back(event_cells(doc, event));
  return table;
}

std::string calendar_words(const Plan& plan) {
  std::string text;
  for (const PlanEvent& event : plan.events) {
    const std::string to = event.to == event.from ? "" : " to " + format_date(event.to);
    text += fmt::format("{}{}: {}\n", format_date(event.from), to, event.says);
  }
  for (const PlanIssue& issue : plan.issues) text += (issue.advice ? "note: " : "problem: ") + issue.says + "\n";
  if (std::ranges::any_of(plan.days, [](const PlannedDay& day) { return day.weather_window_h.has_value(); }))
    text += std::string(weather_assumption()) + "\n";
  return text + std::string(day_caution()) + "\n";
}

}  // namespace pontata
