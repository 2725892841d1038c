#include "editor/window/typed_field.h"

#include <imgui.h>

#include <array>

#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "engine/base/units.h"
#include "engine/document/seam_edits.h"

namespace pontata {
namespace {

using Field = Workbench::Field;

constexpr std::array<const char*, 3> kNames{"chosen.name", "chosen.coat", "chosen.note"};

Result<Edited> with_coat(const Document& document, const std::vector<GiornataId>& of, const std::string& text) {
  const auto coat = text.empty() ? Result<double>(0.0) : parse_number(text);
  if (!coat) return coat.problem();
  const auto mm = text.empty() ? std::nullopt : std::optional(*coat);
  return of.size() == 1 ? set_intonaco(document, of.front(), mm) : set_intonaco(document, of, mm);
}

bool draw_field(Field field, std::string& text) {
  if (field == Field::note) return text_box("##note", text, -1, ImGui::GetTextLineHeight() * 3.4f, true);
  ImGui::SetNextItemWidth(-1);
  return text_field(field == Field::coat ? "##coat" : "##giornata-name", text, true);
}

}  // namespace

void keep_typed(Workbench& bench) {
  const Workbench::Typing typed = *bench.typing;
  bench.typing.reset();
  const Document& document = *bench.session.document();
  if (typed.text == typed.before) return;
  for (const GiornataId id : typed.of)
    if (!document.giornata(id)) return;
  if (typed.field == Field::coat)
    commit(bench, with_coat(document, typed.of, typed.text));
  else if (typed.field == Field::note)
    commit(bench, set_note(document, typed.of.front(), typed.text));
  else
    commit(bench, rename_giornata(document, typed.of.front(), typed.text));
}

void typed_field(Workbench& bench, const std::vector<GiornataId>& of, Field field, const std::string& value) {
  const bool typing = bench.typing && bench.typing->of == of && bench.typing->field == field;
  const std::string before = typing ? bench.typing->before : value;
  std::string text = typing ? bench.typing->text : value;
  ImGui::PushID(static_cast<int>(of.front().value));
  ImGui::PushID(static_cast<int>(of.size()));
  const bool entered = draw_field(field, text);
  const bool active = ImGui::IsItemActive();
  ImGui::PopID();
  ImGui::PopID();
  control(bench, kNames[static_cast<std::size_t>(field)]);
  if (!active && !typing && !entered) return;
  if (bench.typing && !typing) keep_typed(bench);
  bench.typing = Workbench::Typing{of, field, before, text};
  if (entered || !active) keep_typed(bench);
}

}  // namespace pontata
