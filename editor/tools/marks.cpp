#include "editor/tools/marks.h"

#include <imgui.h>

#include <array>
#include <string>

#include "editor/window/theme.h"
#include "engine/picture/wall_place.h"

namespace pontata {
namespace {

ImVec2 to_im2(Vec2 p) { return ImVec2(static_cast<float>(p.x), static_cast<float>(p.y)); }

Rgb colour_of(MarkLook look) {
  return look == MarkLook::chosen ? kAction : look == MarkLook::doubtful ? kWarn : kSeamCore;
}

void draw_number(ImDrawList& list, Vec2 at, const std::string& text, Rgb colour, double scale) {
  const auto size = static_cast<float>(14 * scale), pad = static_cast<float>(3 * scale);
  const ImVec2 extent = ImGui::GetFont()->CalcTextSizeA(size, 1e9f, 0, text.c_str());
  const ImVec2 low(std::round(static_cast<float>(at.x + 9 * scale)),
                   std::round(static_cast<float>(at.y - 9 * scale) - extent.y));
  list.AddRectFilled(ImVec2(low.x - pad, low.y), ImVec2(low.x + extent.x + pad, low.y + extent.y), to_im(kCasing, 235),
                     pad);
  list.AddText(ImGui::GetFont(), size, low, to_im(colour), text.c_str());
}

}  // namespace

void draw_mark(ImDrawList& list, Vec2 at, std::size_t number, MarkLook look, double scale) {
  const Rgb core = colour_of(look);
  const double inner = 2.5 * scale, outer = (look == MarkLook::chosen ? 11 : 8.5) * scale;
  for (const auto& [colour, width] : {std::pair{to_im(kCasing, 235), 4.0}, std::pair{to_im(core), 1.6}})
    for (const Vec2 arm : {Vec2(1, 0), Vec2(-1, 0), Vec2(0, 1), Vec2(0, -1)})
      list.AddLine(to_im2(at + arm * inner), to_im2(at + arm * outer), colour, static_cast<float>(width * scale));
  draw_number(list, at, std::to_string(number), core, scale);
}

void draw_handle(ImDrawList& list, Vec2 at, double scale) {
  const Vec2 half(5 * scale, 5 * scale);
  list.AddRectFilled(to_im2(at - half), to_im2(at + half), to_im(kCasing));
  list.AddRect(to_im2(at - half), to_im2(at + half), to_im(kAction), 0, 0, static_cast<float>(2 * scale));
}

std::array<Vec2, 4> picture_corners(PictureSize size) {
  const double w = size.width, h = size.height;
  return {Vec2(0, h), Vec2(w, h), Vec2(w, 0), Vec2(0, 0)};
}

std::optional<ChartPoint> chart_place(const ChartedWall& wall, const PlacedPicture& picture, Vec2 pixel) {
  const auto* frame = std::get_if<PictureFrame>(&picture.lay);
  if (frame && picture.plate.centres.empty()) return from_pixel(*frame, picture.size, pixel);
  return wall_place(wall, picture, pixel);
}

std::optional<Vec2> pixel_there(const ChartedWall& wall, const PlacedPicture& picture, ChartPoint place) {
  const auto at = wall.position(place);
  if (!at && !std::holds_alternative<PictureFrame>(picture.lay)) return std::nullopt;
  return pixel_at(picture.lay, picture.plate, picture.size, place, at.value_or(Vec3(0, 0, 0)));
}

std::vector<ChartPoint> rim_on_wall(const ChartedWall& wall, const PlacedPicture& picture, int pieces) {
  const auto corners = picture_corners(picture.size);
  std::vector<ChartPoint> out;
  for (std::size_t k = 0; k < corners.size(); ++k)
    for (int i = 0; i < pieces; ++i) {
      const Vec2 pixel = glm::mix(corners[k], corners[(k + 1) % corners.size()], static_cast<double>(i) / pieces);
      if (const auto place = chart_place(wall, picture, pixel)) out.push_back(*place);
    }
  return out;
}

}  // namespace pontata
