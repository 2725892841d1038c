// Plaster: coats, mixes, and what each giornata needs.
#include <imgui.h>

#include <algorithm>

#include "editor/stages/coats_section.h"
#include "editor/stages/levelling.h"
#include "editor/stages/mortar_table.h"
#include "editor/stages/putty_section.h"
#include "editor/stages/section.h"
#include "editor/stages/stage.h"
#include "editor/stages/supply_section.h"
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
  bool wide() const override { return true; }
  State state(Workbench& bench) override {
    const auto rows = bench.session.giornate();
    if (!rows || rows->empty()) return {StageMark::not_started, "No giornata to plaster yet"};
    const auto refused = std::count_if(rows->begin(), rows->end(), [](const auto& r) { return !r.need; });
    const auto& warnings = warned(bench.session.document());
    if (refused == 0 && warnings.empty()) return {StageMark::checked, "Every giornata has its mortar"};
    return {StageMark::begun,
            refused ? std::to_string(refused) + " giornate cannot be plastered so" : warnings.front()};
  }
  void draw(Workbench& bench) override;

 private:
  const std::vector<std::string>& warned(const DocumentRef& document) {
    if (warnings_of_ != document) warnings_ = warnings_of(*document), warnings_of_ = document;
    return warnings_;
  }
  DocumentRef warnings_of_;
  std::vector<std::string> warnings_;
  MortarTable mortar_;
  CoatsSection coats_;
  PuttySection putty_;
  SupplySection supply_;
  SettingsFields fields_;
  LevellingSection levelling_;
};

void PlasterStage::draw(Workbench& bench) {
  const DocumentRef document = bench.session.document();
  for (const std::string& warning : warned(document)) warn_text(warning.c_str());
  if (const auto rows = bench.session.giornate(); rows && !rows->empty())
    mortar_.draw(bench, rows);
  else
    quiet_text("Litres appear here once giornate are drawn.");
  ImGui::Spacing();
  warn_text(
      "Lime burns eyes and skin: goggles, gloves, covered arms. Rinse splashes at once and get medical help. Keep sand "
      "dust wet or extracted.");
  ImGui::Spacing();
  if (section(bench, "coats", "Coats and mixes", true)) coats_.draw(bench);
  if (section(bench, "laying", "Laying and carrying"))
    fields_.draw_keys(bench, {"surface.is", "keys.L", "margin.mm", "waste.pct", "bucket.L", "reserve.pct"});
  supply_.draw(bench);
  const auto tubs = document->job().putty.size();
  if (section(bench, "putty", "Lime putty", false, tubs ? std::to_string(tubs) : "")) {
    fields_.draw_keys(bench, {"putty.density", "putty.solids", "putty.age", "slake.own", "quicklime.purity"});
    putty_.draw(bench);
  }
  if (section(bench, "sand", "Sand, marble dust, pozzolana"))
    fields_.draw_keys(bench, {"sand.voids", "sand.density", "sand.moisture", "sand.bulking", "marble.density",
                              "marble.voids", "pozzolana.density", "pozzolana.voids"});
  if (section(bench, "levelling", "Levelling coat of a scanned wall")) {
    levelling_.draw(bench);
    fields_.draw_keys(bench, {"level.straightedge", "level.least.mm"});
  }
}

}  // namespace

std::unique_ptr<StagePage> make_plaster_stage() { return std::make_unique<PlasterStage>(); }

}  // namespace pontata
