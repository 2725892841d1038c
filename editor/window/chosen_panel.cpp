// Right: the chosen giornata's figures, and below it the fields of the tool in hand.
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/panels.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

void figure(const char* name, const std::string& value) {
  ImGui::TextUnformatted(name);
  ImGui::SameLine(ImGui::GetWindowContentRegionMax().x * 0.46f);
  ImGui::TextUnformatted(value.c_str());
}

// A field for the name that becomes one undo step when it is left.
void name_field(Workbench& bench, const Giornata& g) {
  ImGui::PushID(static_cast<int>(g.id.value));
  std::string text = g.name;
  ImGui::SetNextItemWidth(-1);
  if (text_field("##giornata-name", text, true) && text != g.name)
    commit(bench, rename_giornata(*bench.session.document(), g.id, text));
  control(bench, "chosen.name");
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("The painter's own name for it; Enter keeps it");
  ImGui::PopID();
}

void coat_field(Workbench& bench, const Giornata& g) {
  ImGui::PushID(static_cast<int>(g.id.value));
  field_name("Own coat, mm", 0.46f);
  std::string text = g.intonaco_mm ? format_number(*g.intonaco_mm) : "";
  if (text_field("##coat", text, true)) {
    const auto typed = text.empty() ? Result<double>(0.0) : parse_number(text);
    if (!typed)
      bench.session.complain(typed.problem());
    else
      commit(bench, set_intonaco(*bench.session.document(), g.id, text.empty() ? std::nullopt : std::optional(*typed)));
  }
  control(bench, "chosen.coat");
  if (ImGui::IsItemHovered())
    ImGui::SetTooltip("Thickness of its intonaco; empty: the project's coats. Enter keeps it");
  ImGui::PopID();
}

double volume_L(const Workbench& bench, const Giornata& g, const GiornataMeasure& m) {
  double mm = 0;
  for (const Coat& coat : bench.session.document()->settings.plaster.intonaco) mm += coat.thickness_mm;
  return 1000 * coat_volume(m.area_m2, m.bend_m, m.gauss, g.intonaco_mm.value_or(mm) / 1000);
}

// Numbers of the neighbours: a click chooses one, or joins it to this giornata.
void neighbours(Workbench& bench, const GiornataMeasure& m) {
  const float column = ImGui::GetWindowContentRegionMax().x * 0.46f;
  for (const bool joins : {false, true}) {
    ImGui::TextUnformatted(joins ? "Join with" : "Neighbours");
    ImGui::SameLine(column);
    if (m.neighbours.empty()) ImGui::TextUnformatted("none");
    for (const GiornataId id : m.neighbours) {
      const Giornata* n = bench.session.document()->giornata(id);
      if (!n) continue;
      if (id != m.neighbours.front()) ImGui::SameLine();
      if (ImGui::GetContentRegionAvail().x < 34 * static_cast<float>(bench.scale)) {
        ImGui::NewLine();
        ImGui::SameLine(column);
      }
      ImGui::PushID(static_cast<int>(2 * id.value) + joins);
      const bool pressed = ImGui::SmallButton(std::to_string(n->number).c_str());
      control(bench, (joins ? "join." : "neighbour.") + std::to_string(id.value));
      ImGui::PopID();
      if (!pressed) continue;
      if (!joins) return bench.session.choose(id);
      commit(bench, join(*bench.session.document(), m.id, id));
      return;
    }
  }
}

void findings(Workbench& bench, GiornataId id) {
  const auto& review = bench.session.review;
  if (!review || review->of != bench.session.document()) return;
  for (const auto& [wall, f] : review->findings)
    if (std::find(f.giornate.begin(), f.giornate.end(), id) != f.giornate.end()) {
      if (f.severity == Severity::note)
        quiet_text(f.says.c_str());
      else
        warn_text(f.says.c_str());
    }
}

void hours_line(Workbench& bench, GiornataId id) {
  const auto rows = bench.session.giornate();
  const auto row = std::find_if(rows->begin(), rows->end(), [&](const GiornataPlan& r) { return r.id == id; });
  if (row == rows->end()) return;
  figure("Day", row->day.dated ? format_date(row->day.date) : "done");
  figure("Pontata", std::to_string(row->day.pontata));
  figure("Hours", row->day.hours ? shown(row->day.hours, 1, "of ") + shown(row->day.window_h, 1, "h")
                                 : "no rate yet");
  if (row->day.fits && !*row->day.fits) warn_text("More than one day's window: make it smaller.");
  if (row->need)
    figure("Mortar to mix", shown(row->need->mortar_L, 1, "L"));
  else
    warn_text(row->need.problem().message().c_str());
}

}  // namespace

void draw_chosen(Workbench& bench) {
  const DocumentRef document = bench.session.document();  // a field may change it while its figures are shown
  const Giornata* g = document->giornata(bench.session.chosen());
  const auto figures = g ? bench.session.figures(g->wall) : nullptr;
  const GiornataMeasure* m = g ? bench.session.measure(g->id) : nullptr;
  if (!g || !m) {
    heading("No giornata chosen");
    quiet_text("Click one with the Look tool, or in a list.");
  } else {
    heading(("Giornata " + std::to_string(g->number)).c_str());
    figure("State", std::string(state_look(g->state).word));
    figure("Area", shown(m->area_m2, 4, "m²"));
    figure("Rim", shown(m->perimeter_m, 3, "m"));
    figure("Intonaco", shown(volume_L(bench, *g, *m), 2, "L in place"));
    figure("Height", shown(m->lowest_m, 2, "to ") + shown(m->highest_m, 2, "m"));
    hours_line(bench, g->id);
    ImGui::TextUnformatted("Name");
    name_field(bench, *g);
    coat_field(bench, *g);
    neighbours(bench, *m);
    findings(bench, g->id);
  }
  if (bench.tool_kind == ToolKind::look) return;
  ImGui::Spacing();
  ImGui::Separator();
  heading((std::string("In hand: ") + bench.tool().name()).c_str());
  bench.tool().options(bench);
}

}  // namespace pontata
