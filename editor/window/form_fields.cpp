#include "editor/window/form_fields.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <ctime>

#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/dates.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

constexpr float kStepPx = 5;  // at 100 %, that the pointer goes for a step

std::string tip_of(const FieldRow& row) {
  if (row.kind == FieldKind::text) return row.tip;
  const char* how = row.kind == FieldKind::date ? "Drag to the left or right: by days."
                                                : "Drag to the left or right; with Shift finer.";
  return row.tip.empty() ? how : row.tip + "\n" + how;
}

void show_tip(const std::string& text) {
  if (!text.empty() && ImGui::IsItemHovered()) ImGui::SetTooltip("%s", text.c_str());
}

}  // namespace

std::optional<std::string> FormFields::draw(Workbench& bench, const FieldRow& row, float share) {
  const auto dragged = name(bench, row);
  const float start = ImGui::GetCursorStartPos().x;
  ImGui::SameLine(start + ImGui::GetWindowContentRegionMax().x * share);
  const float widest = std::max(ImGui::CalcTextSize("m²/h").x, ImGui::CalcTextSize(row.unit.c_str()).x);
  const float unit = row.unit.empty() ? 0 : widest + ImGui::GetStyle().ItemSpacing.x;
  auto typed = field(bench, row, std::max(ImGui::GetContentRegionAvail().x - unit, 20.0f));
  return dragged ? dragged : typed;
}

void FormFields::edit(Workbench& bench, FieldRow row, std::string& value) {
  row.value = value;
  if (auto next = draw(bench, row)) value = std::move(*next);
}

std::optional<std::string> FormFields::draw_bare(Workbench& bench, const FieldRow& row, float width) {
  return field(bench, row, width);
}

// The name of a number is a handle.
std::optional<std::string> FormFields::name(Workbench& bench, const FieldRow& row) {
  if (row.kind == FieldKind::text) {
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(row.name.c_str());
    show_tip(row.tip);
    return std::nullopt;
  }
  const ImVec2 at = ImGui::GetCursorScreenPos(), word = ImGui::CalcTextSize(row.name.c_str());
  ImGui::InvisibleButton(("##drag." + row.id).c_str(), ImVec2(std::max(word.x, 1.0f), ImGui::GetFrameHeight()));
  control(bench, "drag." + row.id);
  const bool active = ImGui::IsItemActive(), hovered = ImGui::IsItemHovered();
  const float top = at.y + ImGui::GetStyle().FramePadding.y;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddText(ImVec2(at.x, top), active ? to_im(kAction) : ImGui::GetColorU32(ImGuiCol_Text), row.name.c_str());
  if (hovered || active) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
  const float indent = ImGui::CalcTextSize(row.name.substr(0, row.name.find_first_not_of(' ')).c_str()).x;
  list.AddLine(ImVec2(at.x + indent, top + word.y), ImVec2(at.x + word.x, top + word.y),
               hovered || active ? to_im(kAction) : ImGui::GetColorU32(ImGuiCol_Border),
               static_cast<float>(bench.scale));
  if (!active) show_tip(tip_of(row));
  if (active && dragged_ != row.id) dragged_ = row.id, now_ = row.value;
  if (dragged_ != row.id) return std::nullopt;
  if (active) {
    const float dx = ImGui::GetMouseDragDelta(0, 2).x;
    const int steps = static_cast<int>(dx / (kStepPx * static_cast<float>(bench.scale)));
    const auto next = stepped(row.value, row.kind, steps, ImGui::GetIO().KeyShift);
    if (next && steps == 0) now_ = row.value;
    if (next && steps != 0 && (!row.takes || row.takes(*next))) now_ = *next;
    return std::nullopt;
  }
  dragged_.clear();
  return now_ == row.value ? std::nullopt : std::optional(now_);
}

std::optional<std::string> FormFields::field(Workbench& bench, const FieldRow& row, float width) {
  const auto kept = typed_.find(row.id);
  std::string text = dragged_ == row.id ? now_ : kept == typed_.end() ? row.value : kept->second;
  text_field(("##" + row.id).c_str(), text, false, width);
  control(bench, row.id);
  const bool left = left_field();
  if (ImGui::IsItemActive())
    typed_[row.id] = text;
  else
    typed_.erase(row.id);
  show_tip(row.tip);
  if (!row.unit.empty()) {
    ImGui::SameLine();
    ImGui::TextUnformatted(row.unit.c_str());
  }
  return left && text != row.value ? std::optional(text) : std::nullopt;
}

std::optional<std::string> choice_row(Workbench& bench, const FieldRow& row, const std::vector<std::string>& words) {
  field_name(row.name.c_str(), 0.44f);
  show_tip(row.tip);
  std::optional<std::string> chosen;
  const bool open = ImGui::BeginCombo(("##" + row.id).c_str(), row.value.c_str());
  control(bench, row.id);
  if (!open) show_tip(row.tip);
  if (!open) return chosen;
  for (const std::string& word : words) {
    if (ImGui::Selectable(word.c_str(), word == row.value) && word != row.value) chosen = word;
    control(bench, row.id + "." + word);
  }
  ImGui::EndCombo();
  return chosen;
}

Result<std::optional<double>> number_or_none(const std::string& text, const std::string& what) {
  if (text.empty()) return std::optional<double>();
  const auto value = parse_number(text);
  if (!value) return Problem{what + ": " + value.problem().what, "", value.problem().remedy};
  return std::optional<double>(*value);
}

Result<std::optional<Date>> date_or_none(const std::string& text, const std::string& what) {
  if (text.empty()) return std::optional<Date>();
  const auto value = parse_date(text);
  if (!value) return Problem{what + ": " + value.problem().what, "", value.problem().remedy};
  return std::optional<Date>(*value);
}

Date today() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  return {local.tm_year + 1900, local.tm_mon + 1, local.tm_mday};
}

}  // namespace pontata
