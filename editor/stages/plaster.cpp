// Plaster: coats, mixes, and what each giornata needs.
#include <imgui.h>

#include <algorithm>
#include <utility>

#include "editor/stages/levelling.h"
#include "editor/stages/stage.h"
#include "editor/window/choosing.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

// Of the mixes and coats, then of giornate with a coat of their own.
std::vector<std::string> warnings_of(const Document& doc) {
  auto warnings = mix_warnings(doc.settings.plaster);
  for (auto& own : own_coat_warnings(doc.giornate, doc.settings.plaster)) warnings.push_back(std::move(own));
  return warnings;
}

class PlasterStage final : public StagePage {
 public:
  const char* name() const override { return "Plaster"; }
  State state(Workbench& bench) override {
    const auto rows = bench.session.giornate();
    if (!rows || rows->empty()) return {StageMark::not_started, "No giornata to plaster yet"};
    const auto refused = std::count_if(rows->begin(), rows->end(), [](const auto& r) { return !r.need; });
    const auto warnings = warnings_of(*bench.session.document());
    if (refused == 0 && warnings.empty()) return {StageMark::checked, "Every giornata has its mortar"};
    return {StageMark::begun,
            refused ? std::to_string(refused) + " giornate cannot be plastered so" : warnings.front()};
  }
  void draw(Workbench& bench) override;

 private:
  void table(Workbench& bench, const std::vector<GiornataPlan>& rows);
  SettingsFields fields_;
  LevellingSection levelling_;
};

void PlasterStage::draw(Workbench& bench) {
  for (const std::string& warning : warnings_of(*bench.session.document())) warn_text(warning.c_str());
  if (const auto rows = bench.session.giornate(); rows && !rows->empty())
    table(bench, *rows);
  else
    quiet_text("Litres appear here once giornate are drawn.");
  ImGui::Spacing();
  warn_text(
      "Lime burns eyes and skin: goggles, gloves, covered arms. Rinse splashes at once and get medical help. Keep sand "
      "dust wet or extracted.");
  ImGui::Spacing();
  levelling_.draw(bench);
  ImGui::Spacing();
  heading("Coats and mixes");
  fields_.draw(bench, SettingGroup::plaster);
}

void PlasterStage::table(Workbench& bench, const std::vector<GiornataPlan>& rows) {
  constexpr auto kFlags = ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_ScrollY |
                          ImGuiTableFlags_SizingStretchSame;
  if (!ImGui::BeginTable("plaster", 5, kFlags, ImVec2(0, table_height(rows.size() + 2, 0.5f)))) return;
  ImGui::TableSetupScrollFreeze(0, 1);
  for (const auto& [column, share] :
       {std::pair{"No", 0.8f}, {"mortar L", 1.0f}, {"putty L", 1.0f}, {"sand L", 1.0f}, {"putty kg", 1.0f}})
    ImGui::TableSetupColumn(column, ImGuiTableColumnFlags_WidthStretch, share);
  ImGui::TableHeadersRow();
  std::vector<GiornataNeed> needs;
  std::vector<GiornataId> list;
  for (const GiornataPlan& row : rows) list.push_back(row.id);
  const auto cells = [](std::initializer_list<double> values) {
    for (const double v : values) {
      ImGui::TableNextColumn();
      ImGui::TextUnformatted(shown(v, 1, "").c_str());
    }
  };
  for (const GiornataPlan& row : rows) {
    const Giornata* g = bench.session.document()->giornata(row.id);
    if (!g) continue;
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    const std::string label = label_of(*g) + "##" + std::to_string(row.id.value);
    if (ImGui::Selectable(label.c_str(), bench.session.is_chosen(row.id), ImGuiSelectableFlags_SpanAllColumns))
      choose_in_list(bench, row.id, list);
    control(bench, "plaster." + std::to_string(row.id.value));
    if (!row.need) {
      ImGui::TableNextColumn();
      warn_text(row.need.problem().message().c_str());
      continue;
    }
    needs.push_back(*row.need);
    cells({row.need->mortar_L, row.need->putty_L, row.need->sand_L, row.need->putty_kg});
  }
  const auto sum_row = [&](const char* name, const PlasterTotals& totals) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(name);
    cells({totals.mortar_L, totals.putty_L, totals.sand_L, totals.putty_kg});
  };
  if (bench.session.all_chosen().size() > 1)
    sum_row("Chosen", sums_of(bench.session, bench.session.all_chosen()).mortar);
  sum_row("All", plaster_totals(needs));
  ImGui::EndTable();
}

}  // namespace

std::unique_ptr<StagePage> make_plaster_stage() { return std::make_unique<PlasterStage>(); }

}  // namespace pontata
