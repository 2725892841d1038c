#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include "editor/tools/tool.h"
#include "editor/window/theme.h"
#include "editor/window/workbench.h"
#include "engine/chart/cut_crossing.h"

namespace pontata {
namespace {

ImVec2 to_im2(Vec2 p) { return ImVec2(static_cast<float>(p.x), static_cast<float>(p.y)); }

// Straight chart pieces bend in the 3D view: long ones are cut so that they follow the wall.
void add_piece(std::vector<ImVec2>& out, const ChartedWall& wall, const Pane& pane, ChartPoint a, ChartPoint b) {
  int cuts = 1;
  if (pane.frame.kind == ViewKind::space)
    cuts = std::clamp(static_cast<int>(glm::length(to_vec(b) - to_vec(a)) / 0.05), 1, 200);
  for (int i = out.empty() ? 0 : 1; i <= cuts; ++i) {
    const Vec2 p = to_vec(a) + (to_vec(b) - to_vec(a)) * (static_cast<double>(i) / cuts);
    if (const auto px = projected(wall, pane.frame, to_chart(p))) out.push_back(to_im2(pane.corner + *px));
  }
}

}  // namespace

void draw_stroke(ImDrawList& list, const Workbench& bench, const Pane& pane, const std::vector<ChartPoint>& line,
                 bool closed, Rgb core) {
  std::vector<ChartPoint> whole = line;
  if (closed && !line.empty()) whole.push_back(line.front());
  draw_strokes(list, bench, pane, {whole}, core);
}

void draw_strokes(ImDrawList& list, const Workbench& bench, const Pane& pane,
                  const std::vector<std::vector<ChartPoint>>& lines, Rgb core) {
  const auto item = bench.session.wall_item();
  if (!item) return;
  std::vector<std::vector<ImVec2>> parts;
  for (const auto& line : lines) {
    parts.emplace_back();  // and a new one after each step over a cut
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
      if (is_cut_step(*item->wall, line[i], line[i + 1]))
        parts.emplace_back();
      else
        add_piece(parts.back(), *item->wall, pane, line[i], line[i + 1]);
  }
  const auto scale = static_cast<float>(bench.scale);
  for (const auto& [colour, width] : {std::pair{to_im(kCasing, 220), 5.0f}, std::pair{to_im(core), 2.2f}})
    for (const auto& px : parts) list.AddPolyline(px.data(), static_cast<int>(px.size()), colour, 0, width * scale);
}

void draw_dot(ImDrawList& list, const Workbench& bench, const Pane& pane, ChartPoint place, bool marked) {
  const auto item = bench.session.wall_item();
  if (!item) return;
  const auto px = projected(*item->wall, pane.frame, place);
  if (!px) return;
  const auto scale = static_cast<float>(bench.scale);
  list.AddCircleFilled(to_im2(pane.corner + *px), (marked ? 6.5f : 4.5f) * scale, to_im(kCasing));
  list.AddCircleFilled(to_im2(pane.corner + *px), (marked ? 4.5f : 2.8f) * scale, to_im(marked ? kAction : kSeamCore));
}

void draw_fault(ImDrawList& list, const Workbench& bench, const Pane& pane, ChartPoint place) {
  const auto item = bench.session.wall_item();
  const auto px = item ? projected(*item->wall, pane.frame, place) : std::nullopt;
  if (!px) return;
  const auto scale = static_cast<float>(bench.scale);
  const ImVec2 at = to_im2(pane.corner + *px);
  list.AddCircle(at, 12 * scale, to_im(kCasing), 0, 5 * scale);
  list.AddCircle(at, 12 * scale, to_im(kWarn), 0, 2.5f * scale);
}

std::optional<double> px_in_m(const Workbench& bench, const ToolPointer& at, double px) {
  const auto item = bench.session.wall_item();
  if (!item || !at.pane || !at.place) return std::nullopt;
  const double metre = metre_px(*item->wall, at.pane->frame, *at.place) / bench.scale;
  return metre > 0 ? std::optional(px / metre) : std::nullopt;
}

bool line_key(int key, const LineKeys& does) {
  switch (key) {
    case GLFW_KEY_ENTER:
    case GLFW_KEY_KP_ENTER:
      return does.finish(), true;
    case GLFW_KEY_BACKSPACE:
      return does.take_back(), true;
    case GLFW_KEY_ESCAPE:
      return does.give_up(), true;
    default:
      return false;
  }
}

std::optional<double> px_away(const Workbench& bench, const Pane& pane, ChartPoint place, Vec2 px) {
  const auto item = bench.session.wall_item();
  const auto at = item ? projected(*item->wall, pane.frame, place) : std::nullopt;
  return at ? std::optional(glm::length(pane.corner + *at - px)) : std::nullopt;
}

}  // namespace pontata
