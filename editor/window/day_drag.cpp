#include "editor/window/day_drag.h"

#include <imgui.h>

#include <cstring>

#include "editor/window/commands.h"
#include "engine/document/job_edits.h"

namespace pontata {
namespace {

constexpr const char* kGiornata = "giornata";

const PlannedDay* planned_day(const Plan& plan, GiornataId id) {
  for (const PlannedDay& day : plan.days)
    if (day.id == id) return &day;
  return nullptr;
}

}  // namespace

void day_source(Workbench& bench, GiornataId id) {
  const Giornata* g = bench.session.document()->giornata(id);
  if (!g || g->state == GiornataState::done) return;
  if (!ImGui::BeginDragDropSource(ImGuiDragDropFlags_SourceNoHoldToOpenOthers)) return;
  ImGui::SetDragDropPayload(kGiornata, &id.value, sizeof id.value);
  ImGui::Text("Giornata %s", label_of(*g).c_str());
  ImGui::TextDisabled("let go on a day");
  ImGui::EndDragDropSource();
}

void day_target(Workbench& bench, Date date) {
  if (!ImGui::BeginDragDropTarget()) return;
  if (const ImGuiPayload* payload = ImGui::AcceptDragDropPayload(kGiornata, ImGuiDragDropFlags_AcceptBeforeDelivery)) {
    GiornataId id;
    std::memcpy(&id.value, payload->Data, sizeof id.value);
    if (payload->IsDelivery()) move_day(bench, id, date);
  }
  ImGui::EndDragDropTarget();
}

bool dragging_day() {
  const ImGuiPayload* payload = ImGui::GetDragDropPayload();
  return payload && payload->IsDataType(kGiornata);
}

bool move_day(Workbench& bench, GiornataId id, std::optional<Date> date) {
  const auto plan = bench.session.plan();
  const PlannedDay* now = planned_day(*plan, id);
  if (now && (date ? now->dated && now->date == *date : !now->moved)) return false;  // it lies there
  if (!commit(bench, move_to_day(*bench.session.document(), id, date))) return false;
  bench.session.choose(id);
  return true;
}

}  // namespace pontata
