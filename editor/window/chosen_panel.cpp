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

float value_column() { return ImGui::GetWindowContentRegionMax().x * 0.46f; }

// A label; what follows it stands in the second column, or on a row of its own where either would not fit.
void label(const char* name, float value_width) {
  ImGui::TextUnformatted(name);
  const float start = ImGui::GetCursorStartPos().x, spacing = ImGui::GetStyle().ItemSpacing.x;
  const bool fits = start + ImGui::CalcTextSize(name).x + spacing <= value_column() &&
                    value_column() + value_width <= ImGui::GetWindowContentRegionMax().x;
  if (fits)
    ImGui::SameLine(value_column());
  else
    ImGui::SetCursorPosX(start + spacing);
}

void figure(const char* name, const std::string& value) {
  label(name, ImGui::CalcTextSize(value.c_str()).x);
  ImGui::PushTextWrapPos(0);
  ImGui::TextUnformatted(value.c_str());
  ImGui::PopTextWrapPos();
}

// Takes up what was typed as one undo step.
void keep_typed(Workbench& bench) {
  const Workbench::Typing typed = *bench.typing;
  bench.typing.reset();
  const Document& document = *bench.session.document();
  if (typed.text == typed.before || !document.giornata(typed.of)) return;
  if (!typed.coat) {
    commit(bench, rename_giornata(document, typed.of, typed.text));
    return;
  }
  const auto coat = typed.text.empty() ? Result<double>(0.0) : parse_number(typed.text);
  if (!coat)
    bench.session.complain(coat.problem());
  else
    commit(bench, set_intonaco(document, typed.of, typed.text.empty() ? std::nullopt : std::optional(*coat)));
}

// A field that is taken up by Enter and by leaving it; Esc gives up what was typed.
void typed_field(Workbench& bench, GiornataId of, bool coat, const std::string& value) {
  const bool typing = bench.typing && bench.typing->of == of && bench.typing->coat == coat;
  const std::string before = typing ? bench.typing->before : value;
  std::string text = typing ? bench.typing->text : value;
  ImGui::PushID(static_cast<int>(of.value));
  ImGui::SetNextItemWidth(-1);
  const bool entered = text_field(coat ? "##coat" : "##giornata-name", text, true);
  const bool active = ImGui::IsItemActive();
  ImGui::PopID();
  control(bench, coat ? "chosen.coat" : "chosen.name");
  if (!active && !typing && !entered) return;
  if (bench.typing && !typing) keep_typed(bench);
  bench.typing = Workbench::Typing{of, coat, before, text};
  if (entered || !active) keep_typed(bench);
}

void name_field(Workbench& bench, const Giornata& g) {
  ImGui::TextUnformatted("Name");
  typed_field(bench, g.id, false, g.name);
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("The painter's own name for it; Esc gives up what was typed");
}

void coat_field(Workbench& bench, const Giornata& g) {
  ImGui::AlignTextToFramePadding();
  label("Own coat, mm", ImGui::CalcTextSize("00.00").x);
  typed_field(bench, g.id, true, g.intonaco_mm ? format_number(*g.intonaco_mm) : "");
  if (ImGui::IsItemHovered())
    ImGui::SetTooltip("Thickness of its intonaco; empty: the project's coats. Esc gives up what was typed");
}

double volume_L(const Workbench& bench, const Giornata& g, const GiornataMeasure& m) {
  double mm = 0;
  for (const Coat& coat : bench.session.document()->settings.plaster.intonaco) mm += coat.thickness_mm;
  return 1000 * coat_volume(m.area_m2, m.bend_m, m.gauss, g.intonaco_mm.value_or(mm) / 1000);
}

// Numbers of the neighbours: a click chooses one, or joins it to this giornata.
void neighbours(Workbench& bench, const GiornataMeasure& m) {
  const ImGuiStyle& style = ImGui::GetStyle();
  for (const bool joins : {false, true}) {
    label(joins ? "Join with" : "Neighbours", ImGui::CalcTextSize("none").x);
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
  figure("Hours", row->day.hours ? shown(row->day.hours, 1, "of ") + shown(row->day.window_h, 1, "h") : "no rate yet");
  if (row->day.fits && !*row->day.fits) warn_text("More than one day's window: make it smaller.");
  if (row->need)
    figure("Mortar to mix", shown(row->need->mortar_L, 1, "L"));
  else
    warn_text(row->need.problem().message().c_str());
}

}  // namespace

void draw_chosen(Workbench& bench) {
  control_region(bench, "chosen");
  if (bench.typing && bench.typing->of != bench.session.chosen()) keep_typed(bench);
  const DocumentRef document = bench.session.document();  // a field may change it while its figures are shown
  const Giornata* g = document->giornata(bench.session.chosen());
  const auto figures = g ? bench.session.figures(g->wall) : nullptr;
  const GiornataMeasure* m = g ? bench.session.measure(g->id) : nullptr;
  if (!g || !m) {
    heading("No giornata chosen");
    quiet_text("Click one with the Look tool, or in a list.");
  } else {
    heading(("Giornata " + label_of(*g)).c_str());
    figure("State", std::string(state_look(g->state).word));
    if (g->changed) warn_text("Changed since its cartoon was printed: print it again.");
    figure("Area", shown(m->area_m2, 4, "m²"));
    figure("Rim", shown(m->perimeter_m, 3, "m"));
    figure("Intonaco", shown(volume_L(bench, *g, *m), 2, "L in place"));
    figure("Height", shown(m->lowest_m, 2, "to ") + shown(m->highest_m, 2, "m"));
    hours_line(bench, g->id);
    name_field(bench, *g);
    coat_field(bench, *g);
    neighbours(bench, *m);
    for (const auto& line : bench.session.meets(g->id)) quiet_text(line.c_str());
    findings(bench, g->id);
  }
  if (bench.tool_kind == ToolKind::look) return;
  ImGui::Spacing();
  ImGui::Separator();
  heading((std::string("In hand: ") + bench.tool().name()).c_str());
  bench.tool().options(bench);
}

}  // namespace pontata
