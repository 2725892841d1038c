#include "editor/view/wall_marks.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "editor/view/state_colours.h"

namespace pontata {
namespace {

ImU32 colour(Rgb c, int alpha = 255) { return IM_COL32(c.r, c.g, c.b, alpha); }

void draw_number(ImDrawList& list, Vec2 at, const Giornata& g, bool chosen, bool quiet, double scale) {
  const int strength = quiet ? 140 : 255;
  const StateLook look = state_look(g.state);
  const std::string text = label_of(g);
  const auto size = static_cast<float>((chosen ? 17 : 14) * scale);
  ImFont* font = ImGui::GetFont();
  const ImVec2 extent = font->CalcTextSizeA(size, 1e9f, 0, text.c_str());
  const auto pad = static_cast<float>(4 * scale);
  const ImVec2 middle(static_cast<float>(at.x), static_cast<float>(at.y));
  const ImVec2 low(std::round(middle.x - extent.x / 2 - pad), std::round(middle.y - extent.y / 2 - pad / 2));
  const ImVec2 high(std::round(middle.x + extent.x / 2 + pad), std::round(middle.y + extent.y / 2 + pad / 2));
  list.AddRectFilled(low, high, colour(look.fill, quiet ? 120 : 235), pad);
  list.AddRect(low, high, colour(chosen ? kAction : kSeamCore, strength), pad, 0,
               static_cast<float>((chosen ? 2 : 1) * scale));
  list.AddText(font, size, ImVec2(std::round(middle.x - extent.x / 2), std::round(middle.y - extent.y / 2)),
               colour(look.label, strength), text.c_str());
}

}  // namespace

double metre_px(const ChartedWall& wall, const ViewFrame& frame, ChartPoint place) {
  if (frame.kind == ViewKind::flat) return frame.flat.metre_px;
  const auto at = wall.position(place);
  return at ? frame.space.metre_px(*at, frame.size()) : 0;
}

std::optional<Vec2> projected(const ChartedWall& wall, const ViewFrame& frame, ChartPoint place) {
  if (frame.kind == ViewKind::flat) return frame.flat.to_px(place, frame.size());
  const auto at = wall.position(place);
  return at ? frame.space.to_px(*at, frame.size()) : std::nullopt;
}

std::optional<Vec2> on_screen(const ChartedWall& wall, std::span<const WallRef> all, const ViewFrame& frame,
                              ChartPoint place) {
  const auto px = projected(wall, frame, place);
  if (!px || px->x < 0 || px->y < 0 || px->x > frame.width || px->y > frame.height) return std::nullopt;
  if (frame.kind == ViewKind::flat) return px;
  const auto nearest = seen_place(all, frame.space.ray(*px, frame.size()));
  const double distance = glm::length(*wall.position(place) - frame.space.eye);
  return nearest && std::abs(nearest->seen.distance - distance) < 0.005 + 0.005 * distance ? px : std::nullopt;
}

void draw_numbers(ImDrawList& list, Vec2 corner, const ViewFrame& frame, const WallItem& item,
                  std::span<const WallRef> all, const WallMeasure& measure, const Document& document,
                  std::span<const GiornataId> chosen, bool quiet) {
  for (const GiornataMeasure& m : measure.giornate) {
    const Giornata* g = document.giornata(m.id);
    if (!g) continue;
    const bool is_chosen = std::find(chosen.begin(), chosen.end(), m.id) != chosen.end();
    const double room = std::sqrt(m.area_m2) * metre_px(*item.wall, frame, m.inside);
    if (room < 18 * frame.scale && !is_chosen) continue;
    if (const auto px = on_screen(*item.wall, all, frame, m.inside))
      draw_number(list, corner + *px, *g, is_chosen, quiet, frame.scale);
  }
}

std::vector<WallRef> surfaces_of(const Document& document) {
  std::vector<WallRef> out;
  for (const auto& item : document.walls) out.push_back(item->wall);
  return out;
}

}  // namespace pontata
