// Calendar: the order of work, day by day, and hours against the plaster's window.
#include <imgui.h>

#include <algorithm>
#include <utility>

#include "editor/stages/stage.h"
#include "editor/window/choosing.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

class CalendarStage final : public StagePage {
 public:
  const char* name() const override { return "Calendar"; }
  State state(Workbench& bench) override {
    const auto plan = bench.session.plan();
    if (!plan || plan->days.empty()) return {StageMark::not_started, "No giornata to plan yet"};
    if (!plan->problems.empty()) return {StageMark::begun, plan->problems.front()};
    const auto late = std::count_if(plan->days.begin(), plan->days.end(),
                                    [](const PlannedDay& d) { return !d.fits.value_or(false); });
    if (late == 0) return {StageMark::checked, "Every giornata fits its day"};
    if (!bench.session.document()->settings.calendar.rate_m2_per_h)
      return {StageMark::begun, "Type your own rate in m² an hour to see hours"};
    return {StageMark::begun, std::to_string(late) + " giornate do not fit their day"};
  }
  void draw(Workbench& bench) override;

 private:
  void table(Workbench& bench, const Plan& plan);
  SettingsFields fields_;
};

void CalendarStage::draw(Workbench& bench) {
  const auto plan = bench.session.plan();
  if (plan && !plan->days.empty()) {
    for (const std::string& problem : plan->problems) warn_text(problem.c_str());
    table(bench, *plan);
    if (const auto& chosen = bench.session.all_chosen(); chosen.size() > 1)
      ImGui::TextWrapped("%zu chosen: %s", chosen.size(), days_of(sums_of(bench.session, chosen)).c_str());
  } else {
    quiet_text("Days appear here once giornate are drawn.");
  }
  ImGui::Spacing();
  heading("The day");
  fields_.draw(bench, SettingGroup::day);
}

void CalendarStage::table(Workbench& bench, const Plan& plan) {
  constexpr auto kFlags = ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_ScrollY |
                          ImGuiTableFlags_SizingStretchSame;
  if (!ImGui::BeginTable("calendar", 5, kFlags, ImVec2(0, table_height(plan.days.size(), 0.5f)))) return;
  ImGui::TableSetupScrollFreeze(0, 1);
  for (const auto& [column, share] :
       {std::pair{"Day", 1.4f}, {"No", 0.5f}, {"Pontata", 0.9f}, {"hours", 1.4f}, {"of", 0.6f}})
    ImGui::TableSetupColumn(column, ImGuiTableColumnFlags_WidthStretch, share);
  ImGui::TableHeadersRow();
  std::vector<GiornataId> list;
  for (const PlannedDay& day : plan.days) list.push_back(day.id);
  for (const PlannedDay& day : plan.days) {
    const Giornata* g = bench.session.document()->giornata(day.id);
    if (!g) continue;
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    const std::string label =
        (day.dated ? format_date(day.date) : std::string("done")) + "##" + std::to_string(day.id.value);
    if (ImGui::Selectable(label.c_str(), bench.session.is_chosen(day.id), ImGuiSelectableFlags_SpanAllColumns))
      choose_in_list(bench, day.id, list);
    control(bench, "calendar." + std::to_string(day.id.value));
    const bool over = day.fits && !*day.fits;
    for (const std::string& cell : {label_of(*g), std::to_string(day.pontata),
                                    shown(day.hours, 1, "") + (over ? "  too long" : ""), shown(day.window_h, 1, "")}) {
      ImGui::TableNextColumn();
      ImGui::TextUnformatted(cell.c_str());
    }
  }
  ImGui::EndTable();
}

}  // namespace

std::unique_ptr<StagePage> make_calendar_stage() { return std::make_unique<CalendarStage>(); }

}  // namespace pontata
