#include "editor/stages/section.h"

#include <imgui.h>

#include "editor/window/fields.h"

namespace pontata {

bool section(Workbench& bench, const char* id, const char* title, bool open_at_first, const std::string& after) {
  const std::string words = after.empty() ? title : std::string(title) + "  ·  " + after;
  const float room = ImGui::GetContentRegionAvail().x - ImGui::GetFrameHeight() - ImGui::GetStyle().ItemSpacing.x;
  ImGui::SetNextItemOpen(open_at_first, ImGuiCond_Once);
  const bool open = ImGui::CollapsingHeader((fitted(words, room) + "###section." + id).c_str());
  control(bench, std::string("section.") + id);
  return open;
}

}  // namespace pontata
