// The steps of make_plan after rows and days: what the plan does not hold to, and the days that are no giornata's.
#pragma once

#include "engine/calendar/plan_rows.h"
#include "engine/calendar/plan_words.h"
#include "engine/calendar/schedule.h"

namespace pontata {

struct DayRows {
  Date date;
  std::vector<const PlanRow*> rows;  // in working order
};

struct PlanCase {
  const PlanRows& rows;
  const CalendarSettings& settings;
  const PlanFacts& facts;
  const WorkingDays& days;
  const std::vector<PontataDays>& pontate;
  const PlanWords& words;
  std::vector<DayRows> by_day;
};

using PlanIssues = std::vector<PlanIssue>;

// Of order and pairs: circles, pairs that gave way, water that the order cannot help.
void check_order(const PlanCase& c, PlanIssues& out);
// Of hours: no rate, no window, days that are too long. `plan` has its days.
void check_hours(const PlanCase& c, const Plan& plan, PlanIssues& out);
// Of decks: reach, and what they carry.
void check_decks(const PlanCase& c, PlanIssues& out);
// Of days set by hand: before what must come first, on days without work.
void check_moved(const PlanCase& c, PlanIssues& out);
// Of what lies on one day: wet seams, pairs, painters, the plasterer's morning.
void check_day(const PlanCase& c, PlanIssues& out);
// Of the arriccio: not signed for, not sound, not told of.
void check_ground(const PlanCase& c, PlanIssues& out);
// Of the weather of days with work.
void check_weather(const PlanCase& c, PlanIssues& out);

// All that are no giornata's, by first day; what is dry too early goes to `issues`.
std::vector<PlanEvent> plan_events(const PlanCase& c, PlanIssues& issues);

// Open rows by their day.
std::vector<DayRows> rows_by_day(const PlanRows& rows);

}  // namespace pontata
