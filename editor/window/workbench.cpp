#include "editor/window/workbench.h"

#include <imgui.h>

#include "editor/stages/stage.h"

namespace pontata {

Workbench::Workbench(std::function<void()> wake)
    : settings(read_window_settings()),
      worker(std::move(wake)),
      pages(make_stage_pages()),
      tools{make_look_tool(), make_outline_tool(), make_divide_tool(), make_zone_tool(), make_tape_tool()} {}
Workbench::~Workbench() = default;

void control(Workbench& bench, const std::string& name) {
  if (!bench.trace.on()) return;
  const ImVec2 low = ImGui::GetItemRectMin(), size = ImGui::GetItemRectSize();
  bench.controls[name] = {static_cast<int>(low.x), static_cast<int>(low.y), static_cast<int>(size.x),
                          static_cast<int>(size.y)};
}

void take_tool(Workbench& bench, ToolKind kind) {
  if (kind == bench.tool_kind) return;
  bench.tool().put_down(bench);
  bench.tool_kind = kind;
}

}  // namespace pontata
