#include "editor/stages/chosen_day.h"

#include <imgui.h>

#include <algorithm>

#include "editor/stages/calendar_weeks.h"
#include "editor/window/commands.h"
#include "editor/window/day_drag.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/document/job_edits.h"

namespace pontata {

void ChosenDay::draw(Workbench& bench, GiornataId id) {
  const DocumentRef document = bench.session.document();
  const auto plan = bench.session.plan();
  const auto day = std::ranges::find(plan->days, id, &PlannedDay::id);
  if (day == plan->days.end()) return;
  if (!day->dated) return quiet_text("It is painted.");
  const auto text = fields_.draw(bench, {"chosen.day",
                                         "Day",
                                         format_date(day->date),
                                         "",
                                         "A day, such as 2027-05-04; empty: by the plan",
                                         FieldKind::date,
                                         {}});
  quiet_text((std::string(weekday_word(day->date)) + (day->moved ? ", moved by hand" : ", by the plan")).c_str());
  if (day->moved) {
    same_row("By the plan again");
    if (ImGui::SmallButton("By the plan again")) move_day(bench, id, std::nullopt);
    control(bench, "chosen.by-plan");
  }
  if (text) {
    const auto date = date_or_none(*text, "Day");
    if (date)
      commit(bench, move_to_day(*document, id, *date));
    else
      bench.session.complain(date.problem());
  }
  const GiornataJob* job = of_giornata(document->job(), id);
  bool behind = job && job->behind_scaffold;
  if (ImGui::Checkbox("Behind ties and standards", &behind)) commit(bench, set_behind_scaffold(*document, id, behind));
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("Painted when the scaffold of its pontata is taken away");
  control(bench, "chosen.behind");
}

}  // namespace pontata
