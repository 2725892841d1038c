#include <imgui.h>

#include "editor/stages/stage.h"
#include "editor/window/commands.h"
#include "editor/window/panels.h"
#include "editor/window/theme.h"

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
  ImGui::SameLine(0, 20 * static_cast<float>(bench.scale));
  if (step_button("Undo", history.can_undo(), history.can_undo() ? history.undo_name() : "")) undo(bench);
  control(bench, "undo");
  ImGui::SameLine();
  if (step_button("Redo", history.can_redo(), history.can_redo() ? history.redo_name() : "")) redo(bench);
  control(bench, "redo");
}

// Size of everything on screen; at the right end of the bar.
void scale_choice(Workbench& bench) {
  const float width = 100 * static_cast<float>(bench.scale);
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

void stage_tab(Workbench& bench, std::size_t i) {
  StagePage& page = *bench.pages[i];
  const StagePage::State state = page.state(bench);
  const bool here = bench.page_open && static_cast<std::size_t>(bench.stage) == i;
  if (i > 0) ImGui::SameLine();
  const char* sign = state.mark == StageMark::checked ? "✓ " : state.mark == StageMark::begun ? "◐ " : "○ ";
  const std::string label = std::string(sign) + page.name() + "##stage";
  const ImVec2 size(118 * static_cast<float>(bench.scale), 0);
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
  ImGui::SameLine(0, 20 * static_cast<float>(bench.scale));
  ImGui::AlignTextToFramePadding();
  const bool unsaved = bench.session.worth_saving();
  ImGui::TextUnformatted((bench.session.title() + (unsaved ? "  (not saved)" : "")).c_str());
  scale_choice(bench);
  for (std::size_t i = 0; i < kStages; ++i) stage_tab(bench, i);
}

void draw_tool_strip(Workbench& bench) {
  for (std::size_t i = 0; i < kTools; ++i) {
    const Tool& tool = *bench.tools[i];
    const bool here = static_cast<std::size_t>(bench.tool_kind) == i;
    if (i > 0) ImGui::SameLine();
    const std::string label = std::string(tool.name()) + " (" + tool.key() + ")";
    if (here) {
      ImGui::PushStyleColor(ImGuiCol_Button, to_im(rgb(0xC5D3DE)));
      ImGui::PushStyleColor(ImGuiCol_Border, to_im(kAction));
    }
    if (ImGui::Button(label.c_str())) take_tool(bench, static_cast<ToolKind>(i));
    if (here) ImGui::PopStyleColor(2);
    control(bench, std::string("tool.") + tool.name());
  }
  ImGui::SameLine(0, 14 * static_cast<float>(bench.scale));
  if (ImGui::Button("Whole wall (F)")) bench.views->fit();
  control(bench, "fit");
  ImGui::PushStyleColor(ImGuiCol_Text, ImGui::GetStyleColorVec4(ImGuiCol_TextDisabled));
  ImGui::TextUnformatted(bench.tool().hint().c_str());
  ImGui::PopStyleColor();
}

void draw_page(Workbench& bench) {
  StagePage& page = *bench.pages[static_cast<std::size_t>(bench.stage)];
  heading(page.name());
  const StagePage::State state = page.state(bench);
  quiet_text((std::string(mark_word(state.mark)) + " · " + state.why).c_str());
  ImGui::Spacing();
  page.draw(bench);
}

}  // namespace pontata
