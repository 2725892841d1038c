#include "editor/stages/putty_section.h"

#include <fmt/format.h>
#include <imgui.h>

#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/document/job_edits.h"

namespace pontata {

void PuttySection::draw(Workbench& bench) {
  const DocumentRef document = bench.session.document();
  for (const PuttyBatch& batch : document->job().putty) one(bench, batch, document->settings.calendar.start);
  if (document->job().putty.empty()) quiet_text("Tubs of putty and the day each was slaked: their age is told here.");
  add(bench);
}

void PuttySection::one(Workbench& bench, const PuttyBatch& batch, Date start) {
  const DocumentRef document = bench.session.document();
  const double ripe = document->settings.plaster.supply.putty_age_months;
  const std::string id = "putty." + batch.name;
  ImGui::PushID(id.c_str());
  const bool remove = ImGui::SmallButton("✗");
  control(bench, id + ".remove");
  ImGui::SameLine();
  const int months = putty_age_months(batch, start);
  const std::string words = fmt::format("{}: {} months old on {}", batch.name, months, format_date(start));
  if (months < ripe)
    warn_text((words + fmt::format(", ripe on {}", format_date(ripe_on(batch, ripe)))).c_str());
  else
    ImGui::TextWrapped("%s", words.c_str());
  PuttyBatch next = batch;
  bool changed = false;
  if (const auto text =
          fields_.draw(bench, {id + ".slaked", "Slaked on", format_date(batch.slaked), "", "", FieldKind::date, {}})) {
    const auto date = parse_date(*text);
    date ? (next.slaked = *date, changed = true, void()) : bench.session.complain(date.problem());
  }
  if (const auto text =
          fields_.draw(bench, {id + ".litres", "Holds", format_number(batch.litres), "L", "", FieldKind::number, {}})) {
    const auto litres = parse_number(*text);
    litres ? (next.litres = *litres, changed = true, void()) : bench.session.complain(litres.problem());
  }
  if (const auto text = fields_.draw(bench, {id + ".remark", "Remark", batch.remark}))
    next.remark = *text, changed = true;
  ImGui::PopID();
  if (remove)
    commit(bench, remove_putty(*document, batch.name));
  else if (changed)
    commit(bench, set_putty(*document, next));
}

void PuttySection::add(Workbench& bench) {
  if (slaked_.empty()) slaked_ = format_date(add_months(bench.session.document()->settings.calendar.start, -12));
  fields_.edit(bench, {"putty.name", "A new tub", "", "", "As it is marked"}, name_);
  fields_.edit(bench, {"putty.slaked", "slaked on", "", "", "", FieldKind::date, {}}, slaked_);
  fields_.edit(bench, {"putty.litres", "holds", "", "L", "", FieldKind::number, {}}, litres_);
  if (ImGui::Button("Add this tub")) {
    const auto slaked = parse_date(slaked_);
    const auto litres = number_or_none(litres_, "holds");
    if (!slaked) return bench.session.complain(slaked.problem());
    if (!litres) return bench.session.complain(litres.problem());
    if (commit(bench, set_putty(*bench.session.document(), {name_, *slaked, litres->value_or(0), ""})))
      name_.clear(), litres_.clear();
  }
  control(bench, "putty.add");
}

}  // namespace pontata
