#include "editor/window/fields.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <vector>

#include "engine/base/units.h"

namespace pontata {

bool text_field(const char* label, std::string& text, bool on_enter, float width) {
  std::array<char, 1024> buffer{};
  std::strncpy(buffer.data(), text.c_str(), buffer.size() - 1);
  if (width != 0) ImGui::SetNextItemWidth(width);
  const bool changed = ImGui::InputText(label, buffer.data(), buffer.size(),
                                        on_enter ? ImGuiInputTextFlags_EnterReturnsTrue : ImGuiInputTextFlags_None);
  text = buffer.data();
  return changed;
}

bool text_box(const char* label, std::string& text, float width, float height, bool on_enter) {
  std::vector<char> buffer(65536);
  std::strncpy(buffer.data(), text.c_str(), buffer.size() - 1);
  const bool changed = ImGui::InputTextMultiline(
      label, buffer.data(), buffer.size(), ImVec2(width, height),
      on_enter ? ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_CtrlEnterForNewLine
               : ImGuiInputTextFlags_None);
  if (changed || on_enter) text = buffer.data();
  return changed;
}

std::string fitted(const std::string& text, float room) {
  if (ImGui::CalcTextSize(text.c_str()).x <= room) return text;
  const auto inside_letter = [&](std::size_t at) { return (static_cast<unsigned char>(text[at]) & 0xC0) == 0x80; };
  for (std::size_t end = text.size(); end > 0;) {
    do --end;
    while (end > 0 && inside_letter(end));
    const std::string cut = text.substr(0, end) + "…";
    if (ImGui::CalcTextSize(cut.c_str()).x <= room) return cut;
  }
  return "…";
}

void fitted_text(const std::string& text) {
  const std::string fit = fitted(text, ImGui::GetContentRegionAvail().x);
  ImGui::TextUnformatted(fit.c_str());
  if (fit != text && ImGui::IsItemHovered()) ImGui::SetTooltip("%s", text.c_str());
}

void field_name(const char* name, float share) {
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(name);
  const float start = ImGui::GetCursorStartPos().x;
  ImGui::SameLine(start + ImGui::GetWindowContentRegionMax().x * share);
  ImGui::SetNextItemWidth(-1);
}

void same_row(const char* word, float gap, bool marked) {
  const ImGuiStyle& style = ImGui::GetStyle();
  const float around =
      marked ? ImGui::GetFrameHeight() + style.ItemInnerSpacing.x : 2 * style.FramePadding.x;  // of the word
  const float width = ImGui::CalcTextSize(word).x + around;
  const float end = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
  if (ImGui::GetItemRectMax().x + (gap < 0 ? style.ItemSpacing.x : gap) + width <= end) ImGui::SameLine(0, gap);
}

bool left_field() { return ImGui::IsItemDeactivatedAfterEdit(); }

float table_height(std::size_t rows, float share) {
  const float row = ImGui::GetTextLineHeight() + 2 * ImGui::GetStyle().CellPadding.y;
  constexpr float kLeastRows = 8;  // a page scrolls rather than lose its table
  const float room = std::max(ImGui::GetContentRegionAvail().y * share, kLeastRows * row);
  return std::min((static_cast<float>(rows) + 1.6f) * row, room);
}

std::string shown(double value, int decimals, const char* unit) {
  return format_fixed(value, decimals) + (*unit ? std::string(" ") + unit : "");
}
std::string shown(std::optional<double> value, int decimals, const char* unit) {
  return value ? shown(*value, decimals, unit) : "–";
}

}  // namespace pontata
