#include <imgui.h>

#include <algorithm>

#include "editor/stages/stage.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/layout.h"
#include "editor/window/panels.h"
#include "editor/window/theme.h"
#include "editor/window/view_input.h"

namespace pontata {
namespace {

bool step_button(const char* word, bool possible, const std::string& what) {
  if (!possible) ImGui::BeginDisabled();
  const bool pressed = ImGui::Button(word);
  if (!possible) ImGui::EndDisabled();
  if (possible && ImGui::IsItemHovered()) ImGui::SetTooltip("%s: %s", word, what.c_str());
  return pressed;
}

void file_buttons(Workbench& bench) {
  if (ImGui::Button("New")) new_project(bench);
  control(bench, "new");
  ImGui::SameLine();
  if (ImGui::Button("Open…")) ask_open(bench);
  control(bench, "open");
  ImGui::SameLine();
  if (ImGui::Button("Save")) save(bench);
  control(bench, "save");
  ImGui::SameLine();
  if (ImGui::Button("Save as…")) ask_save_as(bench);
  control(bench, "save_as");
}

void step_buttons(Workbench& bench) {
  const History& history = bench.session.history();
  if (top_rows(ImGui::GetWindowWidth(), bench.scale).button_rows == 1)
    ImGui::SameLine(0, 20 * static_cast<float>(bench.scale));
  if (step_button("Undo", history.can_undo(), history.can_undo() ? history.undo_name() : "")) undo(bench);
  control(bench, "undo");
  ImGui::SameLine();
  if (step_button("Redo", history.can_redo(), history.can_redo() ? history.redo_name() : "")) redo(bench);
  control(bench, "redo");
}

float scale_width(const Workbench& bench) { return 100 * static_cast<float>(bench.scale); }

// As much of the project's name as the size's field leaves room for.
void title(const Workbench& bench) {
  ImGui::SameLine(0, 20 * static_cast<float>(bench.scale));
  ImGui::AlignTextToFramePadding();
  const std::string text = bench.session.title() + (bench.session.worth_saving() ? "  (not saved)" : "");
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float end = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x - scale_width(bench) -
                    ImGui::GetStyle().ItemSpacing.x;
  ImGui::PushClipRect(at, ImVec2(std::max(at.x, end), at.y + ImGui::GetFrameHeight()), true);
  ImGui::TextUnformatted(text.c_str());
  ImGui::PopClipRect();
  if (at.x + ImGui::CalcTextSize(text.c_str()).x > end && ImGui::IsItemHovered()) ImGui::SetTooltip("%s", text.c_str());
}

// Size of everything on screen; at the right end of the bar.
void scale_choice(Workbench& bench) {
  const float width = scale_width(bench);
  ImGui::SameLine(ImGui::GetWindowContentRegionMax().x - width);
  ImGui::SetNextItemWidth(width);
  const std::string shown = std::to_string(static_cast<int>(bench.scale * 100 + 0.5)) + " %";
  if (!ImGui::BeginCombo("##scale", shown.c_str())) return;
  for (const int percent : {0, 100, 125, 150, 175, 200, 250, 300}) {
    const std::string label = percent == 0 ? "as the screen" : std::to_string(percent) + " %";
    if (ImGui::Selectable(label.c_str())) {
      bench.settings.scale = percent / 100.0;
      bench.scale_changed = true;
    }
  }
  ImGui::EndCombo();
}

void stage_tab(Workbench& bench, std::size_t i, int in_row) {
  StagePage& page = *bench.pages[i];
  const StagePage::State state = page.state(bench);
  const bool here = bench.page_open && static_cast<std::size_t>(bench.stage) == i;
  if (i % static_cast<std::size_t>(in_row) > 0) ImGui::SameLine();
  const char* sign = state.mark == StageMark::checked ? "✓ " : state.mark == StageMark::begun ? "◐ " : "○ ";
  const std::string label = std::string(sign) + page.name() + "##stage";
  const auto tabs = static_cast<float>(in_row);
  const float room = ImGui::GetWindowContentRegionMax().x - ImGui::GetCursorStartPos().x;
  const float share = (room - (tabs - 1) * ImGui::GetStyle().ItemSpacing.x) / tabs;
  const ImVec2 size(std::min(118 * static_cast<float>(bench.scale), share), 0);
  if (here) {
    ImGui::PushStyleColor(ImGuiCol_Button, to_im(kAction));
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, to_im(kAction));
    ImGui::PushStyleColor(ImGuiCol_Text, to_im(rgb(0xFFFFFF)));
  }
  const bool pressed = ImGui::Button(label.c_str(), size);
  if (here) ImGui::PopStyleColor(3);
  control(bench, std::string("stage.") + page.name());
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s: %s. %s", page.name(), mark_word(state.mark), state.why.c_str());
  if (!pressed) return;
  bench.page_open = !here;
  bench.stage = static_cast<Stage>(i);
}

}  // namespace

void draw_top_bar(Workbench& bench) {
  file_buttons(bench);
  step_buttons(bench);
  title(bench);
  scale_choice(bench);
  const int in_row = top_rows(ImGui::GetWindowWidth(), bench.scale).tabs_in_row;
  for (std::size_t i = 0; i < kStages; ++i) stage_tab(bench, i, in_row);
}

void draw_tool_strip(Workbench& bench) {
  const bool brief = short_tool_names(ImGui::GetWindowWidth(), bench.scale);
  const auto named = [&](const std::string& name, char key) {
    return brief ? name : name + " (" + key + ")";
  };
  for (std::size_t i = 0; i < kTools; ++i) {
    const Tool& tool = *bench.tools[i];
    const bool here = static_cast<std::size_t>(bench.tool_kind) == i;
    const std::string label = named(tool.name(), tool.key());
    if (i > 0) same_row(label.c_str());
    if (here) {
      ImGui::PushStyleColor(ImGuiCol_Button, to_im(rgb(0xC5D3DE)));
      ImGui::PushStyleColor(ImGuiCol_Border, to_im(kAction));
    }
    if (ImGui::Button(label.c_str())) take_tool(bench, static_cast<ToolKind>(i));
    if (here) ImGui::PopStyleColor(2);
    if (brief && ImGui::IsItemHovered()) ImGui::SetTooltip("%s (%c)", tool.name(), tool.key());
    control(bench, std::string("tool.") + tool.name());
  }
  const std::string whole = named("Whole wall", 'F');
  same_row(whole.c_str(), (brief ? 7 : 14) * static_cast<float>(bench.scale));
  if (ImGui::Button(whole.c_str())) show_whole(bench);
  control(bench, "fit");
  quiet_text(bench.tool().hint().c_str());
}

void draw_page(Workbench& bench) {
  StagePage& page = *bench.pages[static_cast<std::size_t>(bench.stage)];
  control_region(bench, "page");
  heading(page.name());
  const StagePage::State state = page.state(bench);
  quiet_text((std::string(mark_word(state.mark)) + " · " + state.why).c_str());
  ImGui::Spacing();
  page.draw(bench);
}

}  // namespace pontata
