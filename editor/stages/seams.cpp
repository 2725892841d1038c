// Seams: what the look over the seams found, and where.
#include <imgui.h>

#include <algorithm>

#include "editor/stages/stage.h"
#include "editor/window/commands.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

const char* severity_words(Severity s) {
  return s == Severity::decide ? "Decide first" : s == Severity::warn ? "Warning" : "Note";
}

class SeamsStage final : public StagePage {
 public:
  const char* name() const override { return "Seams"; }
  State state(Workbench& bench) override {
    const auto& review = bench.session.review;
    if (!review) return {StageMark::not_started, "Not looked over yet"};
    if (review->of != bench.session.document()) return {StageMark::begun, "Changed since the last look"};
    const auto open = std::count_if(review->findings.begin(), review->findings.end(),
                                    [](const auto& f) { return f.finding.severity == Severity::decide; });
    if (open == 0)
      return {StageMark::checked, std::to_string(review->findings.size()) + " found, nothing to decide first"};
    return {StageMark::begun, std::to_string(open) + " to decide first"};
  }
  void draw(Workbench& bench) override;

 private:
  void row(Workbench& bench, const Session::Found& found, int n);
  SettingsFields fields_;
};

void SeamsStage::draw(Workbench& bench) {
  if (!bench.session.wall_item()) return quiet_text("Add a wall first.");
  if (action_button("Look over the seams")) review_now(bench);
  control(bench, "seams.review");
  const auto& review = bench.session.review;
  if (review && review->of != bench.session.document()) quiet_text("The project has changed since this was found.");
  if (review && review->findings.empty()) quiet_text("Nothing to say against these seams.");
  if (review) {
    ImGui::BeginChild("findings", ImVec2(0, ImGui::GetContentRegionAvail().y * 0.6f), true);
    int n = 0;
    for (const Severity level : {Severity::decide, Severity::warn, Severity::note})
      for (const auto& f : review->findings)
        if (f.finding.severity == level) row(bench, f, n++);
    ImGui::EndChild();
  }
  heading("What counts");
  fields_.draw(bench, SettingGroup::review);
}

void SeamsStage::row(Workbench& bench, const Session::Found& found, int n) {
  const Finding& f = found.finding;
  ImGui::PushID(n);
  ImGui::BeginGroup();
  if (f.severity == Severity::note)
    ImGui::TextUnformatted(severity_words(f.severity));
  else
    warn_text(severity_words(f.severity));
  ImGui::TextWrapped("%s", f.says.c_str());
  if (!f.remedy.empty()) quiet_text(f.remedy.c_str());
  ImGui::EndGroup();
  if (ImGui::IsItemHovered()) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
  if (ImGui::IsItemClicked()) {
    bench.session.choose_wall(found.wall);
    bench.views->follow(bench.session);
    bench.views->fly_to(f.chart, 1.0);
    if (!f.giornate.empty()) bench.session.choose(f.giornate.front());
  }
  control(bench, "finding." + std::to_string(n));
  ImGui::Separator();
  ImGui::PopID();
}

}  // namespace

std::unique_ptr<StagePage> make_seams_stage() { return std::make_unique<SeamsStage>(); }

}  // namespace pontata
