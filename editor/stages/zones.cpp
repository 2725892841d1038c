#include "editor/stages/zones.h"

#include <imgui.h>

#include <algorithm>

#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/subject_field.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/document/record_names.h"
#include "engine/document/seam_edits.h"

namespace pontata {
namespace {

std::string words_of(const Zone& zone) {
  std::string words = zone.kind == ZoneKind::detail ? "Detail" : "Keep whole";
  if (!zone.name.empty()) words += "  " + zone.name;
  if (zone.subject != Subject::none) words += "  " + std::string(subject_name(zone.subject));
  if (zone.rate_m2_per_h) words += "  " + shown(*zone.rate_m2_per_h, 2, "m² an hour");
  return words;
}

std::string rate_text(const Zone& zone) { return zone.rate_m2_per_h ? format_number(*zone.rate_m2_per_h) : ""; }

}  // namespace

void ZonesSection::draw(Workbench& bench) {
  const auto item = bench.session.wall_item();
  if (!item) return;
  heading("Zones");
  if (item->zones.empty()) return quiet_text("Faces and hands that no seam may enter: take the Zone tool (Z).");
  for (const Zone& zone : item->zones) {
    ImGui::PushID(static_cast<int>(zone.id.value));
    const bool here = zone.id == bench.zone;
    const std::string words = words_of(zone), fit = fitted(words, ImGui::GetContentRegionAvail().x);
    if (ImGui::Selectable((fit + "###zone").c_str(), here)) bench.zone = here ? ZoneId{} : zone.id;
    if (fit != words && ImGui::IsItemHovered()) ImGui::SetTooltip("%s", words.c_str());
    control(bench, "zone." + std::to_string(zone.id.value));
    if (here) fields(bench, zone);
    ImGui::PopID();
    if (bench.session.wall_item() != item) return;  // it was changed or taken away
  }
}

void ZonesSection::fields(Workbench& bench, const Zone& zone) {
  const Document& document = *bench.session.document();
  if (of_ != zone.id) of_ = zone.id, name_ = zone.name, rate_ = rate_text(zone);
  ZoneChange change;
  const auto kind = [&](const char* words, ZoneKind k, const char* name) {
    if (ImGui::RadioButton(words, zone.kind == k) && zone.kind != k) change.kind = k;
    control(bench, name);
  };
  kind("Keep whole", ZoneKind::keep_whole, "zones.keep");
  same_row("Detail", -1, true);
  kind("Detail", ZoneKind::detail, "zones.detail");
  field_name("Name");
  text_field("##zone-name", name_);
  control(bench, "zones.name");
  if (left_field() && name_ != zone.name) change.name = name_;
  if (!ImGui::IsItemActive() && !change.name) name_ = zone.name;
  if (zone.kind == ZoneKind::detail) {
    if (Subject subject = zone.subject; subject_field(bench, "zones.subject", subject)) change.subject = subject;
    field_name("m² an hour");
    text_field("##zone-rate", rate_);
    control(bench, "zones.rate");
    if (left_field() && rate_ != rate_text(zone)) {
      const auto rate = parse_number(rate_);
      if (rate_.empty() || rate)
        change.rate_m2_per_h = rate_.empty() ? std::nullopt : std::optional(*rate);
      else
        bench.session.complain(rate.problem());
    }
    if (!ImGui::IsItemActive() && !change.rate_m2_per_h) rate_ = rate_text(zone);
  }
  if (ImGui::Button("Take this zone away")) {
    bench.zone = {};
    commit(bench, remove_zone(document, zone.id));
    return;
  }
  control(bench, "zones.remove");
  if (change.kind || change.name || change.rate_m2_per_h || change.subject) {
    commit(bench, change_zone(document, zone.id, change));
    of_ = {};
  }
}

}  // namespace pontata
