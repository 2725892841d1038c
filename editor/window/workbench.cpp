#include "editor/window/workbench.h"

#include <imgui.h>

#include "editor/stages/stage.h"

namespace pontata {

Workbench::Workbench(std::function<void()> wake)
    : settings(read_window_settings()),
      worker(wake),
      quick(std::move(wake)),
      pages(make_stage_pages()),
      tools{make_look_tool(), make_outline_tool(), make_divide_tool(), make_nudge_tool(), make_join_tool(),
            make_zone_tool(), make_tape_tool(),    make_lay_tool(),    make_pair_tool(),  make_trim_tool()} {}
Workbench::~Workbench() = default;

namespace {

void remember(Workbench& bench, const std::string& name, ImVec2 low, ImVec2 size) {
  if (!bench.trace.on()) return;
  bench.controls[name] = {static_cast<int>(low.x), static_cast<int>(low.y), static_cast<int>(size.x),
                          static_cast<int>(size.y)};
}

}  // namespace

void control(Workbench& bench, const std::string& name) {
  remember(bench, name, ImGui::GetItemRectMin(), ImGui::GetItemRectSize());
}
void control_region(Workbench& bench, const std::string& name) {
  remember(bench, name, ImGui::GetWindowPos(), ImGui::GetWindowSize());
}

void take_tool(Workbench& bench, ToolKind kind) {
  if (kind == bench.tool_kind) return;
  bench.tool().put_down(bench);
  bench.tool_kind = kind;
}

}  // namespace pontata
