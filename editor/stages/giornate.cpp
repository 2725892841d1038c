// Giornate: the list of day-patches of this wall and what is left.
#include <imgui.h>

#include <algorithm>
#include <utility>

#include "editor/stages/layout_section.h"
#include "editor/stages/seam_files_form.h"
#include "editor/stages/stage.h"
#include "editor/stages/zones.h"
#include "editor/window/choosing.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

class GiornateStage final : public StagePage {
 public:
  const char* name() const override { return "Giornate"; }
  State state(Workbench& bench) override {
    const Document& doc = *bench.session.document();
    const auto count = std::count_if(doc.giornate.begin(), doc.giornate.end(), [](const auto& g) { return g.alive; });
    if (count == 0) return {StageMark::not_started, "No giornata drawn yet"};
    double left = 0;
    for (const auto& wall : doc.walls) left += bench.session.figures(wall->id)->measure.unassigned_m2;
    if (left < 1e-4) return {StageMark::checked, "The whole wall is given to giornate"};
    if (left < 0.01) return {StageMark::begun, shown(left * 1e4, 0, "cm² of wall belong to no giornata yet")};
    return {StageMark::begun, shown(left, 2, "m² of wall belong to no giornata yet")};
  }
  void draw(Workbench& bench) override;

 private:
  void table(Workbench& bench, const WallFigures& figures);
  LayoutSection layout_;
  SeamFilesForm files_;
  ZonesSection zones_;
};

void GiornateStage::draw(Workbench& bench) {
  const auto figures = bench.session.figures(bench.session.wall());
  if (!figures) return quiet_text("Add a wall first.");
  const WallMeasure& m = figures->measure;
  if (m.giornate.empty())
    quiet_text("Take the Outline tool (O) and click along a figure in either view; Enter closes.");
  ImGui::TextWrapped("Wall %s, still free %s", shown(m.area_m2, 3, "m²").c_str(),
                     shown(m.unassigned_m2, 3, "m²").c_str());
  files_.draw(bench);
  table(bench, *figures);
  if (const std::size_t chosen = bench.session.all_chosen().size()) {
    const std::string what = chosen == 1 ? "this giornata" : "these " + std::to_string(chosen) + " giornate";
    if (ImGui::Button(("Take " + what + " away (Delete)###take-away").c_str())) remove_chosen(bench);
    control(bench, "giornate.remove");
  }
  ImGui::Spacing();
  zones_.draw(bench);
  layout_.draw(bench);
}

void GiornateStage::table(Workbench& bench, const WallFigures& figures) {
  if (figures.measure.giornate.empty()) return;
  constexpr auto kFlags = ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_ScrollY |
                          ImGuiTableFlags_SizingStretchSame;
  const float height = table_height(figures.measure.giornate.size(), 0.65f);
  if (!ImGui::BeginTable("giornate", 5, kFlags, ImVec2(0, height))) return;
  ImGui::TableSetupScrollFreeze(0, 1);
  for (const auto& [column, share] :
       {std::pair{"No", 0.5f}, {"Name", 1.8f}, {"m²", 1.0f}, {"rim m", 1.0f}, {"hours", 1.0f}})
    ImGui::TableSetupColumn(column, ImGuiTableColumnFlags_WidthStretch, share);
  ImGui::TableHeadersRow();
  std::vector<GiornataId> list;
  for (const GiornataMeasure& m : figures.measure.giornate) list.push_back(m.id);
  for (const GiornataMeasure& m : figures.measure.giornate) {
    const Giornata* g = bench.session.document()->giornata(m.id);
    if (!g) continue;
    const auto hours =
        std::find_if(figures.hours.begin(), figures.hours.end(), [&](const GiornataHours& h) { return h.id == m.id; });
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    const std::string label = label_of(*g) + (g->changed ? " !" : "") + "##" + std::to_string(m.id.value);
    if (ImGui::Selectable(label.c_str(), bench.session.is_chosen(m.id), ImGuiSelectableFlags_SpanAllColumns))
      choose_in_list(bench, m.id, list);
    if (g->changed && ImGui::IsItemHovered()) ImGui::SetTooltip("Changed since its cartoon was printed");
    control(bench, "giornata." + std::to_string(m.id.value));
    for (const std::string& cell : {g->name, shown(m.area_m2, 3, ""), shown(m.perimeter_m, 2, ""),
                                    hours == figures.hours.end() ? std::string("–") : shown(hours->hours, 1, "")}) {
      ImGui::TableNextColumn();
      fitted_text(cell);
    }
  }
  ImGui::EndTable();
}

}  // namespace

std::unique_ptr<StagePage> make_giornate_stage() { return std::make_unique<GiornateStage>(); }

}  // namespace pontata
