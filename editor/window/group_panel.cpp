// Right, where several giornate are chosen: what they come to, and what can be done to all of them.
#include <imgui.h>

#include <algorithm>
#include <array>

#include "editor/window/choosing.h"
#include "editor/window/chosen_fields.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "editor/window/typed_field.h"
#include "engine/base/units.h"
#include "engine/document/seam_edits.h"

namespace pontata {
namespace {

constexpr std::array kStates{GiornataState::planned, GiornataState::ready, GiornataState::today, GiornataState::done,
                             GiornataState::redo};

float value_column() { return ImGui::GetWindowContentRegionMax().x * 0.48f; }

// What all of them have in common; none where they differ.
template <class Of>
auto common(const Document& document, const std::vector<GiornataId>& of, Of&& value)
    -> std::optional<decltype(value(document.giornate.front()))> {
  const auto first = value(*document.giornata(of.front()));
  const bool same =
      std::all_of(of.begin(), of.end(), [&](GiornataId id) { return value(*document.giornata(id)) == first; });
  return same ? std::optional(first) : std::nullopt;
}

// A click on one of them leaves it alone chosen.
void list_of(Workbench& bench, const std::vector<GiornataId>& ids) {
  const ImGuiStyle& style = ImGui::GetStyle();
  const float end = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
  bool first = true;
  for (const GiornataId id : ids) {
    const Giornata* g = bench.session.document()->giornata(id);
    const std::string number = label_of(*g);
    const float width = ImGui::CalcTextSize(number.c_str()).x + 2 * style.FramePadding.x;
    if (!first && ImGui::GetItemRectMax().x + style.ItemSpacing.x + width <= end) ImGui::SameLine();
    first = false;
    ImGui::PushID(static_cast<int>(id.value));
    const bool pressed = ImGui::SmallButton(number.c_str());
    ImGui::PopID();
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", g->name.empty() ? "Choose it alone" : g->name.c_str());
    control(bench, "of-chosen." + std::to_string(id.value));
    if (pressed) return bench.session.choose(id);
  }
}

}  // namespace

void field_label(const char* name, float value_width) {
  ImGui::TextUnformatted(name);
  const float start = ImGui::GetCursorStartPos().x, spacing = ImGui::GetStyle().ItemSpacing.x;
  const bool fits = start + ImGui::CalcTextSize(name).x + spacing <= value_column() &&
                    value_column() + value_width <= ImGui::GetWindowContentRegionMax().x;
  if (fits)
    ImGui::SameLine(value_column());
  else
    ImGui::SetCursorPosX(start + spacing);
}

void figure(const char* name, const std::string& value) {
  field_label(name, ImGui::CalcTextSize(value.c_str()).x);
  ImGui::PushTextWrapPos(0);
  ImGui::TextUnformatted(value.c_str());
  ImGui::PopTextWrapPos();
}

void state_field(Workbench& bench, const std::vector<GiornataId>& of) {
  const DocumentRef document = bench.session.document();
  const auto now = common(*document, of, [](const Giornata& g) { return g.state; });
  ImGui::AlignTextToFramePadding();
  field_label("State", ImGui::CalcTextSize("planned").x + ImGui::GetFrameHeight());
  ImGui::SetNextItemWidth(-1);
  const std::string word(now ? state_look(*now).word : "various");
  const bool open = ImGui::BeginCombo("##state", word.c_str());
  control(bench, "chosen.state");
  if (!open) return;
  for (const GiornataState state : kStates) {
    const std::string choice(state_look(state).word);
    if (ImGui::Selectable(choice.c_str(), now == state) && now != state) commit(bench, set_state(*document, of, state));
    control(bench, "state." + choice);
  }
  ImGui::EndCombo();
}

void coat_field(Workbench& bench, const std::vector<GiornataId>& of) {
  const auto mm = common(*bench.session.document(), of, [](const Giornata& g) { return g.intonaco_mm; });
  ImGui::AlignTextToFramePadding();
  field_label("Coat, mm", ImGui::CalcTextSize("00.00").x);
  typed_field(bench, of, Workbench::Field::coat, !mm ? "various" : *mm ? format_number(**mm) : "");
  if (ImGui::IsItemHovered())
    ImGui::SetTooltip("Thickness of its own intonaco; empty: the project's coats. Esc gives up what was typed");
}

void draw_group(Workbench& bench) {
  const std::vector<GiornataId> ids = bench.session.all_chosen();
  const ChosenSums sums = sums_of(bench.session, ids);
  heading((std::to_string(ids.size()) + " giornate").c_str());
  list_of(bench, ids);
  if (ids != bench.session.all_chosen()) return;  // one of them was chosen alone
  figure("Area", shown(sums.area_m2, 4, "m²"));
  figure("Intonaco", shown(sums.in_place_L, 2, "L in place"));
  figure("Mortar to mix", shown(sums.mortar.mortar_L, 1, "L"));
  if (sums.refused) warn_text((std::to_string(sums.refused) + " of them cannot be plastered so.").c_str());
  figure("Hours", sums.hours ? shown(*sums.hours, 1, "h") : "no rate yet");
  figure("Days", std::to_string(sums.days.size()));
  if (!sums.days.empty())
    quiet_text((format_date(*sums.days.begin()) + " to " + format_date(*sums.days.rbegin())).c_str());
  state_field(bench, ids);
  coat_field(bench, ids);
  const Giornata* first = bench.session.document()->giornata(ids.front());
  if (ImGui::Button("Join them")) join_chosen(bench);
  if (first && ImGui::IsItemHovered())
    ImGui::SetTooltip("One giornata of all, which stays giornata %s", label_of(*first).c_str());
  control(bench, "chosen.join");
  same_row("Take away");
  if (ImGui::Button("Take away")) remove_chosen(bench);
  control(bench, "chosen.remove");
}

}  // namespace pontata
