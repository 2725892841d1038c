// What the calendar verb tells of a plan: JSON, rows of the table, events for calendar programs.
#pragma once

#include "editor/verbs/calendar_file.h"
#include "editor/verbs/project.h"

namespace pontata {

// Said on every day of painting.
std::string_view day_caution();

std::string_view event_name(
    PlanEventKind kind);  // "scaffold-move", "strike", "day-off", "arriccio", "sign-off", "secco"

// Keys as DESIGN has them (giornate, order, problems), and events, issues, circles, laps, weather_counts, caution.
Json calendar_json(const Document& doc, const Plan& plan, const std::vector<GiornataPlan>& rows);
// Giornate in working order, then the events: `kind` says which.
Table calendar_table(const Document& doc, const Plan& plan, const std::vector<GiornataPlan>& rows);
// Events, what the plan does not hold to, and the caution, a line each; below the table.
std::string calendar_words(const Plan& plan);
// Giornate that have a day, and all events. The same thing of the same project file keeps its uid.
std::vector<CalendarEvent> calendar_events(const std::string& project, const Document& doc, const Plan& plan,
                                           const std::vector<GiornataPlan>& rows);

}  // namespace pontata
