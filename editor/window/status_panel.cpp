#include <imgui.h>

#include <algorithm>
#include <vector>

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

struct Fact {
  std::string text;
  int worth = 0;  // where there is no room for all, those of least worth are left out
};

std::vector<Fact> facts_of(const Workbench& bench, bool error) {
  std::vector<Fact> facts;
  const std::string& saved = bench.session.saved_time();
  const bool unsaved = bench.session.worth_saving();
  if (!error) {  // a complaint has the room
    if (auto words = hug_words(bench); !words.empty()) facts.push_back({std::move(words), 5});
    if (bench.hover) {
      facts.push_back({"height " + shown(bench.hover->place.z, 3, "m"), 2});
      facts.push_back(
          {"right " + shown(bench.hover->chart.u, 3, "m") + "  up " + shown(bench.hover->chart.v, 3, "m"), 3});
    }
    if (bench.hover_pixel)
      facts.push_back(
          {"picture right " + shown(bench.hover_pixel->x, 1, "") + "  down " + shown(bench.hover_pixel->y, 1, "px"),
           3});
    facts.push_back({"metres", 0});
  }
  if (unsaved)
    facts.push_back({saved.empty() ? "not saved yet" : "changed since " + saved, 4});
  else
    facts.push_back({saved.empty() ? "nothing to save" : "saved " + saved, 1});
  return facts;
}

// One behind the other, as many as the room in px holds; those of most worth in any case.
std::string in_line(std::vector<Fact> facts, float room) {
  for (;;) {
    std::string line;
    for (const Fact& fact : facts) line += (line.empty() ? "" : "   ·   ") + fact.text;
    const auto least = std::min_element(facts.begin(), facts.end(),
                                        [](const Fact& a, const Fact& b) { return a.worth < b.worth; });
    if (facts.size() < 2 || least->worth > 2 || ImGui::CalcTextSize(line.c_str()).x <= room) return line;
    facts.erase(least);
  }
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
  const std::string& said = bench.session.status();
  const float room = ImGui::GetContentRegionAvail().x, gap = 16 * scale;
  const float says = ImGui::CalcTextSize(said.c_str()).x;
  const std::string facts = in_line(facts_of(bench, error), room - says - gap);
  const float width = ImGui::CalcTextSize(facts.c_str()).x;
  const bool alone = error && says > room - width - gap;
  const std::string fit = fitted(said, alone ? room : room - width - gap);
  if (error) ImGui::PushStyleColor(ImGuiCol_Text, to_im(kWarn));
  ImGui::TextUnformatted(fit.c_str());
  if (error) ImGui::PopStyleColor();
  if (fit != said && ImGui::IsItemHovered()) ImGui::SetTooltip("%s", said.c_str());
  if (alone) return;
  ImGui::SameLine(right - width);
  ImGui::TextUnformatted(facts.c_str());
}

}  // namespace pontata
