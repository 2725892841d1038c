#include "editor/stages/supply_section.h"

#include <fmt/format.h>
#include <imgui.h>

#include "editor/stages/section.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

constexpr auto kTable = ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_SizingStretchProp;

void row(std::initializer_list<std::string> cells) {
  ImGui::TableNextRow();
  for (const std::string& cell : cells) {
    ImGui::TableNextColumn();
    fitted_text(cell);
  }
}

void heads(std::initializer_list<const char*> columns) {
  for (const char* column : columns) ImGui::TableSetupColumn(column);
  ImGui::TableHeadersRow();
}

// Sand is told by its greatest grain.
std::string name_of(const PurchaseLine& line) {
  return line.grain_mm ? fmt::format("{} to {} mm", line.material, format_number(*line.grain_mm)) : line.material;
}

}  // namespace

// The plan of plaster is made only while one of them is open.
void SupplySection::draw(Workbench& bench) {
  const auto with_plan = [&](auto&& show) {
    const auto made = bench.session.plaster();
    if (!*made) return warn_text(made->problem().message().c_str());
    show(**made);
  };
  if (section(bench, "ground-coats", "Rinzaffo and arriccio"))
    with_plan([&](const PlasterPlan& plan) { ground(bench, plan); });
  if (section(bench, "buying", "To buy and to slake")) with_plan([&](const PlasterPlan& plan) { buying(bench, plan); });
}

void SupplySection::ground(Workbench& bench, const PlasterPlan& plan) {
  if (plan.ground.empty()) return quiet_text("No coat below the intonaco is laid.");
  for (const std::string& warning : plan.warnings) warn_text(warning.c_str());
  if (!ImGui::BeginTable("ground", 6, kTable)) return;
  heads({"Where", "m²", "mortar L", "putty L", "sand L", "laid"});
  for (const GroundRow& r : plan.ground) {
    const WallItem* item = bench.session.document()->wall(r.wall);
    const std::string where =
        (item ? item->name : "") + (r.pontata ? fmt::format(", pontata {}", *r.pontata) : std::string(", the rest"));
    row({where, shown(r.area_m2, 2, ""), shown(r.need.mortar_L, 0, ""), shown(r.need.putty_L, 0, ""),
         shown(r.need.sand_L, 0, ""),
         r.laid ? format_date(*r.laid) + (r.signed_for ? ", signed for" : "") : std::string("–")});
  }
  row({"All", shown(plan.ground_sum.area_m2, 2, ""), shown(plan.ground_sum.mortar_L, 0, ""),
       shown(plan.ground_sum.putty_L, 0, ""), shown(plan.ground_sum.sand_L, 0, ""), ""});
  ImGui::EndTable();
}

void SupplySection::buying(Workbench& bench, const PlasterPlan& plan) {
  if (ImGui::RadioButton("for the whole job", !to_come_)) to_come_ = false;
  control(bench, "buying.all");
  same_row("for what is still to come", -1, true);
  if (ImGui::RadioButton("for what is still to come", to_come_)) to_come_ = true;
  control(bench, "buying.to-come");
  const Purchase& buy = to_come_ ? plan.to_come : plan.purchase;
  const double reserve = bench.session.document()->settings.plaster.supply.reserve_pct;
  quiet_text(fmt::format("With {} % in reserve.", format_number(reserve)).c_str());
  if (buy.lines.empty()) return quiet_text("Nothing is needed.");
  if (ImGui::BeginTable("buying", 4, kTable)) {
    heads({"", "L", "kg", "buckets"});
    for (const PurchaseLine& line : buy.lines)
      row({name_of(line), line.litres > 0 ? shown(line.litres, 0, "") : "–", shown(line.kg, 0, ""),
           line.buckets > 0 ? shown(line.buckets, 1, "") : "–"});
    ImGui::EndTable();
  }
  if (buy.slaking) slaking(*buy.slaking, plan.slake_by);
}

void SupplySection::slaking(const Slaking& s, const std::optional<Date>& slake_by) {
  ImGui::Spacing();
  ImGui::TextWrapped(
      "Slaking: %s of quicklime in %s of water give %s (%s) of putty; %s are bound by the lime. %s stays on the sieve. "
      "The heat set free is %s.",
      shown(s.quicklime_kg, 0, "kg").c_str(), shown(s.water_L(), 0, "L").c_str(), shown(s.putty_L, 0, "L").c_str(),
      shown(s.putty_kg, 0, "kg").c_str(), shown(s.reaction_water_kg, 0, "L").c_str(),
      shown(s.waste_kg, 0, "kg").c_str(), shown(s.heat_MJ, 0, "MJ").c_str());
  if (slake_by) ImGui::TextWrapped("Slake it by %s for it to be ripe.", format_date(*slake_by).c_str());
  for (const std::string_view caution : slaking_cautions()) warn_text(std::string(caution).c_str());
}

}  // namespace pontata
