// Calendar: the order of work, day by day, and hours against the plaster's window.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "editor/stages/calendar_grid.h"
#include "editor/stages/chosen_day.h"
#include "editor/stages/diary_form.h"
#include "editor/stages/palette_section.h"
#include "editor/stages/section.h"
#include "editor/stages/site_sections.h"
#include "editor/stages/stage.h"
#include "editor/stages/teach_section.h"
#include "editor/stages/weather_section.h"
#include "editor/window/choosing.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

std::string counted(std::size_t n) { return n == 0 ? "" : std::to_string(n); }

class CalendarStage final : public StagePage {
 public:
  const char* name() const override { return "Calendar"; }
  bool wide() const override { return true; }
  State state(Workbench& bench) override {
    const auto plan = bench.session.plan();
    if (!plan || plan->days.empty()) return {StageMark::not_started, "No giornata to plan yet"};
    if (!plan->problems.empty()) return {StageMark::begun, plan->problems.front()};
    const auto late = std::count_if(plan->days.begin(), plan->days.end(),
                                    [](const PlannedDay& d) { return d.dated && !d.fits.value_or(false); });
    if (late == 0) return {StageMark::checked, "Every giornata fits its day"};
    if (!bench.session.document()->settings.calendar.rate_m2_per_h)
      return {StageMark::begun, "Type your own rate in m² an hour to see hours"};
    return {StageMark::begun, std::to_string(late) + " giornate do not fit their day"};
  }
  void draw(Workbench& bench) override;

 private:
  void weeks(Workbench& bench);
  void issues(Workbench& bench, const Plan& plan);
  void chosen(Workbench& bench);
  void hours(Workbench& bench);
  void site(Workbench& bench);

  CalendarWeeks weeks_;
  CalendarGrid grid_;
  GiornataId of_;  // whose fields are shown
  ChosenDay chosen_day_;
  DiaryForm diary_;
  PaletteSection palette_;
  SeccoSection secco_;
  WeatherSection weather_;
  DaysOffSection days_off_;
  PairsSection pairs_;
  GroundSection ground_;
  TeachSection teach_;
  SettingsFields fields_;
};

void CalendarStage::draw(Workbench& bench) {
  weeks(bench);
  const auto plan = bench.session.plan();
  if (plan) issues(bench, *plan);
  if (const auto& all = bench.session.all_chosen(); all.size() > 1)
    ImGui::TextWrapped("%zu chosen: %s", all.size(), days_of(sums_of(bench.session, all)).c_str());
  chosen(bench);
  hours(bench);
  site(bench);
}

void CalendarStage::weeks(Workbench& bench) {
  const auto plan = bench.session.plan();
  if (!plan || plan->days.empty()) return quiet_text("Days appear here once giornate are drawn.");
  if (weeks_.of != bench.session.document() || weeks_.plan != plan)
    weeks_ = calendar_weeks(bench.session.document(), plan);
  grid_.draw(bench, weeks_, std::max(ImGui::GetContentRegionAvail().y * 0.5f, 230 * static_cast<float>(bench.scale)));
  const auto done = std::ranges::count_if(plan->days, [](const PlannedDay& d) { return !d.dated; });
  quiet_text(fmt::format("Drag a giornata to another day.{}", done ? fmt::format(" {} painted.", done) : "").c_str());
}

// A click on one chooses the giornate that it is about.
void CalendarStage::issues(Workbench& bench, const Plan& plan) {
  if (plan.issues.empty()) {
    for (const std::string& problem : plan.problems) warn_text(problem.c_str());
    return;
  }
  const bool broken = std::ranges::any_of(plan.issues, [](const PlanIssue& i) { return !i.advice; });
  const char* title = broken ? "What the plan does not hold to" : "To be heeded";
  if (!section(bench, "issues", title, true, counted(plan.issues.size()))) return;
  constexpr int kMostShown = 7;
  const float line = ImGui::GetTextLineHeightWithSpacing();
  const bool many = plan.issues.size() > kMostShown;
  if (many) ImGui::BeginChild("issues", ImVec2(0, kMostShown * 1.6f * line), true);
  int n = 0;
  for (const PlanIssue& issue : plan.issues) {
    ImGui::PushID(n);
    ImGui::BeginGroup();
    issue.advice ? quiet_text(issue.says.c_str()) : warn_text(issue.says.c_str());
    ImGui::EndGroup();
    control(bench, fmt::format("issue.{}", n++));
    if (ImGui::IsItemHovered() && !issue.giornate.empty()) {
      ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
      if (ImGui::IsMouseClicked(0)) bench.session.choose_all(issue.giornate);
    }
    ImGui::PopID();
  }
  if (many) ImGui::EndChild();
}

// What is being typed for one giornata is taken up before another one's fields are shown.
void CalendarStage::chosen(Workbench& bench) {
  const DocumentRef document = bench.session.document();
  if (of_ != bench.session.chosen() && !ImGui::IsAnyItemActive()) of_ = bench.session.chosen();
  const Giornata* g = document->giornata(of_);
  if (!g) return quiet_text("Choose a giornata for its day, its diary and its pigments.");
  const std::string who = label_of(*g) + (g->name.empty() ? "" : " " + g->name);
  if (section(bench, "chosen", "Giornata", true, who)) chosen_day_.draw(bench, of_);
  const auto written =
      std::ranges::count_if(document->job().diary, [&](const DiaryRef& e) { return e->giornata == of_; });
  if (section(bench, "diary", "Its diary", false, counted(static_cast<std::size_t>(written))))
    diary_.draw(bench, of_, grid_.chosen_day);
  const GiornataJob* job = of_giornata(document->job(), of_);
  if (section(bench, "palette", "Its pigments", false, counted(job ? job->palette.size() : 0)))
    palette_.draw(bench, of_);
  const auto dry = std::ranges::count(document->job().secco, of_, &SeccoWork::giornata);
  if (section(bench, "secco", "Finished dry (a secco)", false, counted(static_cast<std::size_t>(dry))))
    secco_.draw(bench, of_);
}

void CalendarStage::hours(Workbench& bench) {
  if (section(bench, "rates", "Your rates", true)) {
    fields_.draw_keys(bench, {"rate", "rate.of.faces", "rate.of.drapery", "rate.of.architecture", "rate.of.background",
                              "rate.laying"});
    quiet_text("Or type the hours of your last piece: 2.5 h for 0.08 m2");
  }
  if (section(bench, "day", "The day and the plaster's window"))
    fields_.draw_keys(bench, {"window.base", "window.wait", "window.stop", "day.hours", "day.whole"});
  const auto days = bench.session.document()->job().weather.size();
  if (section(bench, "weather", "Weather", false, days ? fmt::format("{} days", days) : "")) {
    quiet_text("The air at which the window above holds:");
    fields_.draw_keys(bench, {"window.temperature", "window.humidity", "window.air", "window.weather"});
    quiet_text(std::string(weather_assumption()).c_str());
    weather_.draw(bench, grid_.chosen_day);
  }
  const auto diary = bench.session.document()->job().diary.size();
  if (section(bench, "teach", "What the days teach", false, diary ? fmt::format("{} entries", diary) : ""))
    teach_.draw(bench);
}

void CalendarStage::site(Workbench& bench) {
  const DocumentRef document = bench.session.document();
  if (section(bench, "start", "Start and order"))
    fields_.draw_keys(bench, {"start", "workdays", "painters", "plasterer.area", "hand", "hand.against"});
  if (section(bench, "days-off", "Days without work", false, counted(document->job().days_off.size())))
    days_off_.draw(bench, grid_.chosen_day);
  if (section(bench, "pairs", "Pairs of giornate", false, counted(document->job().pairs.size()))) pairs_.draw(bench);
  if (section(bench, "ground", "Arriccio and its signing off", false, counted(document->job().ground.size()))) {
    fields_.draw_keys(bench, {"curing.days", "secco.days"});
    ground_.draw(bench);
  }
  if (section(bench, "scaffold", "Scaffold"))
    fields_.draw_keys(bench, {"pontata.levels", "pontata.reach", "pontata.load", "scaffold.move", "scaffold.strike"});
}

}  // namespace

std::unique_ptr<StagePage> make_calendar_stage() { return std::make_unique<CalendarStage>(); }

}  // namespace pontata
