#include <imgui.h>

#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/input_queue.h"
#include "editor/window/panels.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

std::string hug_words(const Workbench& bench) {
  if (bench.tool_kind != ToolKind::outline && bench.tool_kind != ToolKind::divide && bench.tool_kind != ToolKind::nudge)
    return "";
  if (!bench.hug_on) return "Hug off";
  if (bench.mods & kShift) return "Hug let go";
  if (auto words = bench.tools[static_cast<std::size_t>(bench.tool_kind)]->follows(bench); !words.empty()) return words;
  const auto item = bench.session.wall_item();
  const bool picture = item && shows_picture(*item);
  if (picture && !bench.session.contours()) return "Hug: seams only, finding contours…";
  return picture ? "Hug on" : "Hug: seams only, no picture";
}

}  // namespace

void draw_status(Workbench& bench) {
  const auto scale = static_cast<float>(bench.scale);
  const float right = ImGui::GetWindowContentRegionMax().x;
  if (const auto work = bench.worker.shown(); work && !work->blocking) {
    ImGui::ProgressBar(static_cast<float>(work->fraction), ImVec2(140 * scale, 0), work->title.c_str());
    ImGui::SameLine();
    if (ImGui::SmallButton("Cancel")) bench.worker.cancel();
    ImGui::SameLine();
  }
  const bool error = bench.session.status_is_error();
  if (error) ImGui::PushStyleColor(ImGuiCol_Text, to_im(kWarn));
  ImGui::TextUnformatted(bench.session.status().c_str());
  if (error) {
    ImGui::PopStyleColor();
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", bench.session.status().c_str());
  }
  const float said = ImGui::GetItemRectMax().x;
  std::string facts = error ? "" : hug_words(bench);  // the whole complaint has the room
  const auto add = [&](const std::string& text) { facts += (facts.empty() ? "" : "   ·   ") + text; };
  if (bench.hover && !error) {
    add("height " + shown(bench.hover->place.z, 3, "m"));
    add("right " + shown(bench.hover->chart.u, 3, "m") + "  up " + shown(bench.hover->chart.v, 3, "m"));
  }
  if (bench.hover_pixel && !error)
    add("picture right " + shown(bench.hover_pixel->x, 1, "") + "  down " + shown(bench.hover_pixel->y, 1, "px"));
  if (!error) add("metres");
  const std::string& saved = bench.session.saved_time();
  if (bench.session.worth_saving())
    add(saved.empty() ? "not saved yet" : "changed since " + saved);
  else
    add(saved.empty() ? "nothing to save" : "saved " + saved);
  const float width = ImGui::CalcTextSize(facts.c_str()).x;
  if (error && said > ImGui::GetWindowPos().x + right - width) return;
  ImGui::SameLine(right - width);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  ImGui::GetWindowDrawList()->AddRectFilled(
      ImVec2(at.x - 8 * scale, at.y - 2 * scale),
      ImVec2(at.x + width + 4 * scale, at.y + ImGui::GetTextLineHeight() + 2 * scale), to_im(kGround));
  ImGui::TextUnformatted(facts.c_str());
}

}  // namespace pontata
