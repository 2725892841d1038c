#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <map>

#include "editor/verbs/calendar_report.h"
#include "engine/base/units.h"
#include "engine/document/sha256.h"

namespace pontata {

namespace {

// Said where someone is sent to do such work. Common practice, no source.
std::string_view caution_of(PlanEventKind kind) {
  switch (kind) {
    case PlanEventKind::scaffold_move:
    case PlanEventKind::strike:
      return "Scaffold: put up, changed and taken down only by those trained for it; used only after handover, with "
             "guardrails and ties by local rules, loaded by its tag. Never climb from it.";
    case PlanEventKind::arriccio:
      return "Lime burns eyes and skin: sealed goggles, gloves, covered arms. In the eye: rinse at once for 20 minutes "
             "and get medical help.";
    case PlanEventKind::sign_off:
      return "Sound it by knocking, look for salts and damp; where old plaster or paint lies beneath, ask a "
             "conservator first. Use the scaffold only after handover, loaded by its tag.";
    case PlanEventKind::secco:
      return "Binders and pigments: keep dust down, wear what the material's sheet says. Use the scaffold only after "
             "handover, loaded by its tag.";
    case PlanEventKind::day_off:
      break;
  }
  return "Nothing wet is laid on these days.";
}

class Events {
 public:
  Events(const std::string& project, const Document& doc, const Plan& plan)
      : project_(sha256_of(std::filesystem::path(project).filename().string()).substr(0, 16)), doc_(doc), plan_(plan) {
    for (const PlanIssue& issue : plan.issues)
      for (const GiornataId id : issue.giornate)
        if (!issue.advice) problems_[id].push_back(issue.says);
  }
  void add(const GiornataPlan& row);
  void add(const PlanEvent& event);
  std::vector<CalendarEvent> take() { return std::move(events_); }

 private:
  std::string uid(const std::string& key);
  std::string laps(const GiornataPlan& row) const;

  std::string project_;
  const Document& doc_;
  const Plan& plan_;
  std::map<GiornataId, std::vector<std::string>> problems_;
  std::map<std::string, int> used_;
  std::vector<CalendarEvent> events_;
};

// The second with one key gets a 2 behind it, and so on.
std::string Events::uid(const std::string& key) {
  const int count = ++used_[key];
  return fmt::format("{}{}-{}@pontata", key, count > 1 ? "-" + std::to_string(count) : "", project_);
}

std::string Events::laps(const GiornataPlan& row) const {
  std::map<LapSide, std::vector<std::string>> sides;
  for (const Lap& lap : row.laps)
    if (lap.side != LapSide::not_told)
      sides[lap.side].push_back(lap.other ? label_of(*doc_.giornata(lap.other)) : "wall not yet planned");
  std::string text;
  if (sides.contains(LapSide::pressed))
    text += fmt::format("\nPress against {}: flush, never over paint", fmt::join(sides[LapSide::pressed], ", "));
  if (sides.contains(LapSide::cut_first))
    text += fmt::format("\nCut the edge at about 45°, foot outward, towards {}",
                        fmt::join(sides[LapSide::cut_first], ", "));
  if (sides.contains(LapSide::one_wet))
    text += fmt::format("\nWet together with {}, no cut between", fmt::join(sides[LapSide::one_wet], ", "));
  return text;
}

void Events::add(const GiornataPlan& row) {
  const PlannedDay& day = row.day;
  if (!day.dated && !day.painted) return;
  const Giornata& g = *doc_.giornata(row.id);
  CalendarEvent event{uid(fmt::format("giornata-{}", g.id.value)), day.date,
                      "Giornata " + giornata_label(g) + (day.dated ? "" : " (painted)"),
                      fmt::format("Wall {}, pontata {}", doc_.wall(row.wall)->name, day.pontata)};
  if (day.attempt > 1) event.description += fmt::format("\nDone again: attempt {}", day.attempt);
  if (day.hours)
    event.description += fmt::format("\n{} h of painting in a window of {} h", format_fixed(*day.hours, 1),
                                     format_fixed(day.window_h, 1));
  if (day.weather_window_h && !plan_.weather_counts)
    event.description += fmt::format("\nBy that day's weather perhaps {} h. {}", format_fixed(*day.weather_window_h, 1),
                                     weather_assumption());
  if (row.need) event.description += fmt::format("\n{} L of mortar", format_fixed(row.need->mortar_L, 1));
  if (day.dated) event.description += laps(row);
  for (const std::string& problem : problems_[row.id]) event.description += "\nLook out: " + problem;
  event.description += "\n" + std::string(day_caution());
  events_.push_back(std::move(event));
}

std::string key_of(const PlanEvent& event) {
  const std::string kind(event_name(event.kind));
  switch (event.kind) {
    case PlanEventKind::scaffold_move:
    case PlanEventKind::strike:
      return fmt::format("{}-{}", kind, event.pontata);
    case PlanEventKind::arriccio:
    case PlanEventKind::sign_off:
      return fmt::format("{}-{}-{}", kind, event.wall.value, event.pontata);
    case PlanEventKind::secco:
      return fmt::format("{}-{}", kind, event.giornata.value);
    case PlanEventKind::day_off:
      break;
  }
  return fmt::format("{}-{}", kind, format_date(event.from));
}

void Events::add(const PlanEvent& event) {
  CalendarEvent made{uid(key_of(event)), event.from, event.says, std::string(caution_of(event.kind))};
  made.last = event.to;
  events_.push_back(std::move(made));
}

}  // namespace

std::vector<CalendarEvent> calendar_events(const std::string& project, const Document& doc, const Plan& plan,
                                           const std::vector<GiornataPlan>& rows) {
  Events events(project, doc, plan);
  for (const GiornataPlan& row : rows) events.add(row);
  for (const PlanEvent& event : plan.events) events.add(event);
  return events.take();
}

}  // namespace pontata
