// Right: the fields of the tool in hand, and below them the chosen giornata's figures.
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "editor/window/choosing.h"
#include "editor/window/chosen_fields.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/panels.h"
#include "editor/window/theme.h"
#include "editor/window/typed_field.h"
#include "engine/document/reviewed.h"

namespace pontata {
namespace {

void name_field(Workbench& bench, const Giornata& g) {
  ImGui::TextUnformatted("Name");
  typed_field(bench, {g.id}, Workbench::Field::name, g.name);
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("The painter's own name for it; Esc gives up what was typed");
}

void note_field(Workbench& bench, const Giornata& g) {
  ImGui::TextUnformatted("Note");
  typed_field(bench, {g.id}, Workbench::Field::note, g.note);
  if (ImGui::IsItemHovered())
    ImGui::SetTooltip("The painter's remarks; Enter keeps them, Ctrl and Enter is a new line, Esc gives up");
}

void print_line(const Giornata& g) {
  if (g.changed)
    warn_text("Changed since its cartoon was printed: print it again.");
  else if (g.printed)
    quiet_text("Its cartoon was printed.");
}

// Numbers of the neighbours: a click chooses one, or joins it to this giornata.
void neighbours(Workbench& bench, const GiornataMeasure& m) {
  const ImGuiStyle& style = ImGui::GetStyle();
  for (const bool joins : {false, true}) {
    field_label(joins ? "Join with" : "Neighbours", ImGui::CalcTextSize("none").x);
    const float start = ImGui::GetCursorPosX();
    const float end = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    bool first = true;
    for (const GiornataId id : m.neighbours) {
      const Giornata* n = bench.session.document()->giornata(id);
      if (!n) continue;
      const std::string number = label_of(*n);
      const float width = ImGui::CalcTextSize(number.c_str()).x + 2 * style.FramePadding.x;
      if (!first && ImGui::GetItemRectMax().x + style.ItemSpacing.x + width <= end)
        ImGui::SameLine();
      else if (!first)
        ImGui::SetCursorPosX(start);
      first = false;
      ImGui::PushID(static_cast<int>(2 * id.value) + joins);
      const bool pressed = ImGui::SmallButton(number.c_str());
      control(bench, (joins ? "join." : "neighbour.") + std::to_string(id.value));
      ImGui::PopID();
      if (!pressed) continue;
      if (!joins) return bench.session.choose(id);
      commit(bench, join(*bench.session.document(), m.id, id));
      return;
    }
    if (first) ImGui::TextUnformatted("none");
  }
}

void findings(Workbench& bench, GiornataId id) {
  const auto& review = bench.session.review;
  const Document& document = *bench.session.document();
  if (!review || !reviewed_alike(*review->of, document)) return;
  for (const auto& [wall, found] : review->findings) {
    if (std::find(found.giornate.begin(), found.giornate.end(), id) == found.giornate.end()) continue;
    std::vector<Finding> one{found};
    mark_accepted(one, wall, document.job().accepted);
    if (one[0].accepted) continue;
    if (found.severity == Severity::note)
      quiet_text(found.says.c_str());
    else
      warn_text(found.says.c_str());
  }
}

void hours_line(Workbench& bench, GiornataId id) {
  const auto rows = bench.session.giornate();
  const auto row = std::find_if(rows->begin(), rows->end(), [&](const GiornataPlan& r) { return r.id == id; });
  if (row == rows->end()) return;
  figure("Day", row->day.dated ? format_date(row->day.date) : "done");
  figure("Pontata", std::to_string(row->day.pontata));
  figure("Hours", row->day.hours ? shown(row->day.hours, 1, "of ") + shown(row->day.window_h, 1, "h") : "no rate yet");
  if (row->day.fits && !*row->day.fits) warn_text("More than one day's window: make it smaller.");
  if (row->need)
    figure("Mortar to mix", shown(row->need->mortar_L, 1, "L"));
  else
    warn_text(row->need.problem().message().c_str());
}

void draw_one(Workbench& bench) {
  const DocumentRef document = bench.session.document();  // a field may change it while its figures are shown
  const Giornata* g = document->giornata(bench.session.chosen());
  const auto figures = g ? bench.session.figures(g->wall) : nullptr;
  const GiornataMeasure* m = g ? bench.session.measure(g->id) : nullptr;
  if (!g || !m) {
    heading("No giornata chosen");
    quiet_text("Click one with the Look tool, or in a list.");
  } else {
    heading(("Giornata " + label_of(*g)).c_str());
    print_line(*g);
    state_field(bench, {g->id});
    figure("Area", shown(m->area_m2, 4, "m²"));
    figure("Rim", shown(m->perimeter_m, 3, "m"));
    figure("Intonaco", shown(in_place_L(*document, *g, *m), 2, "L in place"));
    figure("Height", shown(m->lowest_m, 2, "to ") + shown(m->highest_m, 2, "m"));
    hours_line(bench, g->id);
    name_field(bench, *g);
    coat_field(bench, {g->id});
    note_field(bench, *g);
    neighbours(bench, *m);
    for (const auto& line : bench.session.meets(g->id)) quiet_text(line.c_str());
    findings(bench, g->id);
  }
}

}  // namespace

void draw_chosen(Workbench& bench) {
  control_region(bench, "chosen");
  if (bench.typing && bench.typing->of != bench.session.all_chosen()) keep_typed(bench);
  if (bench.tool_kind != ToolKind::look) {
    heading((std::string("In hand: ") + bench.tool().name()).c_str());
    bench.tool().options(bench);
    ImGui::Spacing();
    ImGui::Separator();
  }
  if (bench.session.all_chosen().size() > 1)
    draw_group(bench);
  else
    draw_one(bench);
}

}  // namespace pontata
