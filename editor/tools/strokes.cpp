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
  const auto item = bench.session.wall_item();
  if (!item || line.size() < 2) return;
  std::vector<std::vector<ImVec2>> parts(1);  // a new one after each step over a cut
  const auto add = [&](ChartPoint a, ChartPoint b) {
    if (is_cut_step(*item->wall, a, b))
      parts.emplace_back();
    else
      add_piece(parts.back(), *item->wall, pane, a, b);
  };
  for (std::size_t i = 0; i + 1 < line.size(); ++i) add(line[i], line[i + 1]);
  if (closed) add(line.back(), line.front());
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

std::optional<double> px_away(const Workbench& bench, const Pane& pane, ChartPoint place, Vec2 px) {
  const auto item = bench.session.wall_item();
  const auto at = item ? projected(*item->wall, pane.frame, place) : std::nullopt;
  return at ? std::optional(glm::length(pane.corner + *at - px)) : std::nullopt;
}

}  // namespace pontata
