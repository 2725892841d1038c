// Bottom: the days of one week with their giornate; the current week when the plan has reached it, else its first.
#include <imgui.h>

#include <algorithm>

#include "editor/stages/calendar_weeks.h"
#include "editor/window/choosing.h"
#include "editor/window/day_drag.h"
#include "editor/window/fields.h"
#include "editor/window/form_fields.h"
#include "editor/window/panels.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

// The week that page 0 shows.
Date home_week(const Plan& plan) {
  std::vector<Date> dates;
  for (const PlannedDay& d : plan.days)
    if (d.dated) dates.push_back(d.date);
  if (dates.empty()) return monday_of(today());
  const auto [first, last] = std::minmax_element(dates.begin(), dates.end());
  const Date now = today();
  return monday_of(now < *first || *last < now ? *first : now);
}

void day_box(Workbench& bench, const Plan& plan, Date date, float width) {
  ImGui::PushID(weekday(date));
  ImGui::BeginChild("day", ImVec2(width, 0), true);
  ImGui::Text("%s %d %s", weekday_word(date), date.day, month_word(date.month));
  std::vector<GiornataId> list;
  for (const PlannedDay& d : plan.days) list.push_back(d.id);
  for (const PlannedDay& d : plan.days) {
    if (d.date != date || !(d.dated || d.painted)) continue;
    const Giornata* g = bench.session.document()->giornata(d.id);
    const GiornataMeasure* m = bench.session.measure(d.id);
    if (!g || !m) continue;
    const bool over = d.dated && d.fits && !*d.fits;
    const std::string hours = d.painted ? "  painted" : d.hours ? "  " + shown(d.hours, 1, "h") : "";
    const std::string all = "No " + label_of(*g) + (over ? " !" : "") + "  " + shown(m->area_m2, 2, "m²") + hours;
    const std::string brief = "No " + label_of(*g) + (over ? " !" : "") + hours;  // where a day is narrow
    const float room = ImGui::GetContentRegionAvail().x;
    const std::string text = ImGui::CalcTextSize(all.c_str()).x <= room ? all : fitted(brief, room);
    if (ImGui::Selectable((text + "###" + std::to_string(d.id.value)).c_str(), bench.session.is_chosen(d.id)))
      choose_in_list(bench, d.id, list);
    control(bench, "week." + std::to_string(d.id.value));
    if (d.dated) day_source(bench, d.id);
    if (text != all && ImGui::IsItemHovered()) ImGui::SetTooltip("%s", all.c_str());
    if (!g->name.empty()) quiet_text(g->name.c_str());
  }
  ImGui::EndChild();
  control(bench, "week.day." + std::to_string(weekday(date)));
  day_target(bench, date);
  ImGui::PopID();
}

}  // namespace

void draw_week(Workbench& bench) {
  const auto plan = bench.session.plan();
  if (!plan) return;
  const Date monday = add_days(home_week(*plan), 7 * bench.week);
  ImGui::BeginGroup();
  const float side = 92 * static_cast<float>(bench.scale);
  ImGui::TextUnformatted("Week from");
  ImGui::TextUnformatted(format_date(monday).c_str());
  if (ImGui::Button("‹##week")) --bench.week;
  ImGui::SameLine();
  if (ImGui::Button("›##week")) ++bench.week;
  ImGui::EndGroup();
  ImGui::SameLine(side);
  const float gap = ImGui::GetStyle().ItemSpacing.x;
  const float width = (ImGui::GetContentRegionAvail().x - 6 * gap) / 7;
  for (int i = 0; i < 7; ++i) {
    if (i > 0) ImGui::SameLine();
    day_box(bench, *plan, add_days(monday, i), std::max(width, 30.0f));
  }
}

}  // namespace pontata
