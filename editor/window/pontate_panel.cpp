// Left: the scaffold's decks from the top, each with its giornate, their area, litres and days.
#include <imgui.h>

#include <algorithm>
#include <map>

#include "editor/window/choosing.h"
#include "editor/window/fields.h"
#include "editor/window/panels.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

struct Deck {
  double area_m2 = 0, litres = 0;
  int days = 0;
  std::vector<const GiornataPlan*> rows;
};

std::vector<GiornataId> ids_of(const Deck& deck) {
  std::vector<GiornataId> ids;
  for (const GiornataPlan* row : deck.rows) ids.push_back(row->id);
  return ids;
}

double litres_of(const GiornataPlan& row) { return row.need ? row.need->mortar_L : 0; }

std::map<int, Deck> decks_of(Workbench& bench, const std::vector<GiornataPlan>& rows) {
  std::map<int, Deck> decks;
  for (const GiornataPlan& row : rows) {
    Deck& deck = decks[row.day.pontata];
    if (const GiornataMeasure* m = bench.session.measure(row.id)) deck.area_m2 += m->area_m2;
    deck.litres += litres_of(row);
    deck.days += row.day.dated ? 1 : 0;
    deck.rows.push_back(&row);
  }
  return decks;
}

void swatch(Workbench& bench, GiornataState state) {
  const float size = ImGui::GetTextLineHeight() * 0.8f;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 low(at.x, at.y + size * 0.15f), high(at.x + size, at.y + size * 1.15f);
  list.AddRectFilled(low, high, to_im(state_look(state).fill), 2 * static_cast<float>(bench.scale));
  list.AddRect(low, high, to_im(kSeamCore), 2 * static_cast<float>(bench.scale));
  ImGui::Dummy(ImVec2(size, size));
  ImGui::SameLine();
}

void giornata_row(Workbench& bench, const GiornataPlan& row, std::span<const GiornataId> list) {
  const Giornata* g = bench.session.document()->giornata(row.id);
  const GiornataMeasure* m = bench.session.measure(row.id);
  if (!g || !m) return;
  ImGui::PushID(static_cast<int>(row.id.value));
  const float top = ImGui::GetCursorPosY();
  if (ImGui::Selectable("##row", bench.session.is_chosen(row.id), 0, ImVec2(0, ImGui::GetTextLineHeight() * 2.5f)))
    choose_in_list(bench, row.id, list);
  control(bench, "pontate." + std::to_string(row.id.value));
  if (ImGui::IsItemHovered() && ImGui::IsMouseDoubleClicked(0)) {
    bench.views->follow(bench.session);
    bench.views->fly_to(m->inside, 2.2 * std::sqrt(m->area_m2));
  }
  ImGui::SetCursorPosY(top);
  swatch(bench, g->state);
  fitted_text(label_of(*g) + (g->changed ? " !  " : "  ") + g->name);
  ImGui::Indent(20 * static_cast<float>(bench.scale));
  quiet_text((shown(m->area_m2, 2, "m²") + " · " + (row.need ? shown(litres_of(row), 1, "L") : "– L") + " · " +
              (row.day.hours ? shown(row.day.hours, 1, "h") : "– h"))
                 .c_str());
  ImGui::Unindent(20 * static_cast<float>(bench.scale));
  ImGui::PopID();
}

}  // namespace

void draw_pontate(Workbench& bench) {
  heading("Pontate");
  const auto rows = bench.session.giornate();
  if (!rows || rows->empty()) {
    quiet_text("Bands of wall worked from one deck. They appear once giornate are drawn.");
    return;
  }
  const auto decks = decks_of(bench, *rows);
  std::vector<GiornataId> list;  // as it stands from the top
  for (const auto& [number, deck] : decks)
    for (const GiornataId id : ids_of(deck)) list.push_back(id);
  for (const auto& [number, deck] : decks) {
    ImGui::PushID(number);
    const std::string label = "Pontata " + std::to_string(number) + (number == 1 ? ", the highest" : "");
    ImGui::SetNextItemOpen(true, ImGuiCond_Once);
    const float room = ImGui::GetContentRegionAvail().x - ImGui::GetFrameHeight() - ImGui::GetStyle().ItemSpacing.x;
    const bool open =
        ImGui::CollapsingHeader((fitted(label, room) + "###deck").c_str(), ImGuiTreeNodeFlags_OpenOnArrow);
    if (ImGui::IsItemClicked() && !ImGui::IsItemToggledOpen()) bench.session.choose_all(ids_of(deck));
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s. Click: choose all of it. The arrow opens and closes it.", label.c_str());
    control(bench, "pontata." + std::to_string(number));
    quiet_text((shown(deck.area_m2, 2, "m²") + " · " + shown(deck.litres, 1, "L") + " · " + std::to_string(deck.days) +
                (deck.days == 1 ? " day" : " days"))
                   .c_str());
    if (open)
      for (const GiornataPlan* row : deck.rows) giornata_row(bench, *row, list);
    ImGui::PopID();
  }
}

}  // namespace pontata
