#include "editor/stages/shape_picture.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "editor/window/theme.h"
#include "engine/wall/shape_sketch.h"

namespace pontata {
namespace {

using FlatLines = std::vector<std::vector<Vec2>>;  // x to the right, y down, any unit

// Seen along a slanting line: depth runs up and to the right of the picture.
Vec2 seen(const Vec3& p) {
  constexpr double kTurn = 0.55, kTip = 0.42;  // radians
  const double across = p.x * std::cos(kTurn) + p.y * std::sin(kTurn);
  const double depth = p.y * std::cos(kTurn) - p.x * std::sin(kTurn);
  return {across, -(p.z * std::cos(kTip) + depth * std::sin(kTip))};
}

FlatLines flat_lines(const ShapeSpec& spec) {
  FlatLines out;
  for (const auto& line : shape_sketch(spec)) {
    auto& flat = out.emplace_back();
    for (const Vec3& p : line) flat.push_back(seen(p));
  }
  return out;
}

void draw_lines(ImDrawList& list, const FlatLines& lines, ImVec2 corner, ImVec2 size, ImU32 colour, float thickness) {
  Vec2 low{INFINITY, INFINITY}, high{-INFINITY, -INFINITY};
  for (const auto& line : lines)
    for (const Vec2 p : line) low = glm::min(low, p), high = glm::max(high, p);
  if (!(high.x > low.x)) return;
  const double flat_height = std::max(high.y - low.y, 1e-9);
  const double per = std::min((size.x - 2 * thickness) / (high.x - low.x), (size.y - 2 * thickness) / flat_height);
  const Vec2 middle = 0.5 * (low + high), centre{corner.x + 0.5 * size.x, corner.y + 0.5 * size.y};
  std::vector<ImVec2> px;
  for (const auto& line : lines) {
    px.clear();
    for (const Vec2 p : line) {
      const Vec2 at = centre + per * (p - middle);
      px.emplace_back(static_cast<float>(at.x), static_cast<float>(at.y));
    }
    list.AddPolyline(px.data(), static_cast<int>(px.size()), colour, ImDrawFlags_None, thickness);
  }
}

// The examples' pictures never change.
const FlatLines& example_lines(ShapeKind kind) {
  static std::map<ShapeKind, FlatLines> kept;
  const auto found = kept.find(kind);
  return found != kept.end() ? found->second : kept.emplace(kind, flat_lines(example_of(kind))).first->second;
}

}  // namespace

void draw_shape(ImDrawList& list, const ShapeSpec& spec, ImVec2 corner, ImVec2 size, ImU32 colour, float thickness) {
  draw_lines(list, flat_lines(spec), corner, size, colour, thickness);
}

bool pick_shape(ShapeKind& picked, double scale, const std::function<void(ShapeKind)>& each) {
  const auto s = static_cast<float>(scale);
  const float room = ImGui::GetContentRegionAvail().x, gap = 6 * s;
  const int in_row = std::max(2, static_cast<int>((room + gap) / (112 * s + gap)));
  const float width = (room - gap * static_cast<float>(in_row - 1)) / static_cast<float>(in_row);
  const float text = ImGui::GetTextLineHeight(), picture = 56 * s, height = picture + text + 6 * s;
  bool pressed = false;
  int column = 0;
  for (const ShapeKind kind : all_shapes()) {
    if (column > 0) ImGui::SameLine(0, gap);
    column = (column + 1) % in_row;
    const std::string name(shape_name(kind));
    const ImVec2 at = ImGui::GetCursorScreenPos();
    if (ImGui::InvisibleButton(name.c_str(), ImVec2(width, height))) picked = kind, pressed = true;
    const bool chosen = kind == picked, under = ImGui::IsItemHovered() || ImGui::IsItemFocused();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 end(at.x + width, at.y + height);
    if (under) list.AddRectFilled(at, end, to_im(kAction, 26), 3 * s);
    if (chosen) list.AddRect(at, end, to_im(kAction), 3 * s, ImDrawFlags_None, 2 * s);
    const ImU32 ink = chosen ? to_im(kAction) : ImGui::GetColorU32(ImGuiCol_Text);
    draw_lines(list, example_lines(kind), ImVec2(at.x + 8 * s, at.y + 6 * s), ImVec2(width - 16 * s, picture - 8 * s),
               ink, 1.4f * s);
    const float words = ImGui::CalcTextSize(name.c_str()).x;
    list.PushClipRect(at, end, true);
    list.AddText(ImVec2(at.x + std::max(4 * s, 0.5f * (width - words)), at.y + picture), ink, name.c_str());
    list.PopClipRect();
    each(kind);
  }
  return pressed;
}

}  // namespace pontata
