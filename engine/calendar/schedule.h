// The days of the rows of a plan. Shared by the steps of make_plan.
#pragma once

#include <vector>

#include "engine/calendar/plan_rows.h"
#include "engine/calendar/working_days.h"

namespace pontata {

// What a pontata takes beside painting.
struct PontataDays {
  std::size_t deck = 0;
  Date from;                      // the scaffold stands, work may begin
  std::optional<Date> move_from;  // the scaffold is set for it, up to the working day before `from`
  std::optional<Date> move_to;
  std::optional<Date> strike_from, strike_to;  // its ties and standards are taken away
};

// Gives every open row its date. Returns the pontate that are worked, in order.
std::vector<PontataDays> schedule(PlanRows& plan, const CalendarSettings& settings, const WorkingDays& days);

// What the deck carries on a day with these giornate, kg: their mortar, a painter for each, and one plasterer.
double deck_load_kg(std::span<const PlanRow* const> on_day);

}  // namespace pontata
