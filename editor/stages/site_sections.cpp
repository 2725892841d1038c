#include "editor/stages/site_sections.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "editor/window/choosing.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/document/job_edits.h"

namespace pontata {
namespace {

std::string span_of(Date from, Date to) { return format_date(from) + (from == to ? "" : " to " + format_date(to)); }

// A line with a button behind it that takes it away; true when that was pressed.
bool line_with_remove(Workbench& bench, const std::string& words, const std::string& id) {
  ImGui::PushID(id.c_str());
  const bool pressed = ImGui::SmallButton("✗");
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("Take it away");
  control(bench, id);
  ImGui::SameLine();
  ImGui::TextWrapped("%s", words.c_str());
  ImGui::PopID();
  return pressed;
}

const char* pair_words(PairKind kind) {
  switch (kind) {
    case PairKind::apart:
      return "never on one day with";
    case PairKind::together:
      return "may be wet on one day with";
    case PairKind::before:
      break;
  }
  return "painted before";
}

std::string label(const Document& doc, GiornataId id) {
  const Giornata* g = doc.giornata(id);
  return g ? label_of(*g) : "taken away";
}

}  // namespace

void DaysOffSection::draw(Workbench& bench, const std::optional<Date>& day) {
  const DocumentRef document = bench.session.document();
  for (const DaysOff& off : document->job().days_off) {
    const std::string words = fmt::format("{}: {}{}", span_of(off.from, off.to), day_off_name(off.why),
                                          off.remark.empty() ? "" : ", " + off.remark);
    if (line_with_remove(bench, words, "days-off.remove." + format_date(off.from)))
      commit(bench, remove_days_off(*document, off.from));
  }
  if (document->job().days_off.empty())
    quiet_text("Rest days, dusty trades, days on which the scaffold is not free: nothing is laid then.");
  if (day != taken_ && day) from_ = to_ = format_date(*day);
  taken_ = day;
  fields_.edit(bench,
               {"days-off.from",
                "From",
                "",
                "",
                "A day, such as 2027-05-04; a click in the calendar fills it in",
                FieldKind::date,
                {}},
               from_);
  fields_.edit(bench, {"days-off.to", "To", "", "", "The last of these days", FieldKind::date, {}}, to_);
  if (auto why = choice_row(bench, {"days-off.why", "Why", why_}, {"rest", "dust", "scaffold", "other"})) why_ = *why;
  fields_.edit(bench, {"days-off.remark", "Remark", ""}, remark_);
  if (ImGui::Button("No work on these days")) add(bench);
  control(bench, "days-off.add");
}

void DaysOffSection::add(Workbench& bench) {
  const auto from = parse_date(from_), to = parse_date(to_.empty() ? from_ : to_);
  if (!from) return bench.session.complain(from.problem());
  if (!to) return bench.session.complain(to.problem());
  DaysOff off{*from, *to, DayOffWhy::rest, remark_};
  for (const DayOffWhy why : {DayOffWhy::rest, DayOffWhy::dust, DayOffWhy::scaffold, DayOffWhy::other})
    if (day_off_name(why) == why_) off.why = why;
  if (commit(bench, add_days_off(*bench.session.document(), off))) remark_.clear();
}

void PairsSection::draw(Workbench& bench) {
  const DocumentRef document = bench.session.document();
  int n = 0;
  for (const PairRule& rule : document->job().pairs) {
    const std::string words =
        fmt::format("{} {} {}", label(*document, rule.first), pair_words(rule.kind), label(*document, rule.second));
    if (line_with_remove(bench, words, fmt::format("pairs.remove.{}", n++)))
      commit(bench, remove_pair(*document, rule));
  }
  if (document->job().pairs.empty()) quiet_text("Choose two giornate, or type their numbers.");
  const auto& chosen = bench.session.all_chosen();
  if (chosen.size() == 2 && chosen != taken_)
    first_ = label(*document, chosen[0]), second_ = label(*document, chosen[1]);
  taken_ = chosen;
  fields_.edit(bench, {"pairs.first", "Giornata", ""}, first_);
  field_name("is", 0.44f);
  if (ImGui::BeginCombo("##pair-kind", pair_words(kind_))) {
    for (const PairKind kind : {PairKind::before, PairKind::apart, PairKind::together}) {
      if (ImGui::Selectable(pair_words(kind), kind == kind_)) kind_ = kind;
      control(bench, "pairs.kind." + std::string(pair_name(kind)));
    }
    ImGui::EndCombo();
  } else {
    control(bench, "pairs.kind");
  }
  fields_.edit(bench, {"pairs.second", "giornata", ""}, second_);
  if (ImGui::Button("Hold to this")) add(bench);
  control(bench, "pairs.add");
}

void PairsSection::add(Workbench& bench) {
  const DocumentRef document = bench.session.document();
  PairRule rule{{}, {}, kind_};
  for (const auto& [text, id] : {std::pair{&first_, &rule.first}, {&second_, &rule.second}}) {
    *id = giornata_labelled(*document, *text);
    if (!*id)
      return bench.session.complain({"there is no giornata \"" + *text + "\"", "", "Type a number from the list."});
  }
  commit(bench, add_pair(*document, rule));
}

void GroundSection::draw(Workbench& bench) {
  const DocumentRef document = bench.session.document();
  if (document->job().ground.empty())
    quiet_text("When was the arriccio laid? Painting waits until it has cured and is signed for.");
  for (const GroundWork& work : document->job().ground) one(bench, work);
  add(bench);
}

void GroundSection::one(Workbench& bench, const GroundWork& work) {
  const DocumentRef document = bench.session.document();
  const WallItem* item = document->wall(work.wall);
  const std::string id = fmt::format("ground.{}.{}", work.wall.value, work.pontata);
  ImGui::PushID(id.c_str());
  GroundWork next = work;
  bool changed = false;
  const std::string where = fmt::format("{}, {}", item ? item->name : "a wall taken away",
                                        work.pontata ? fmt::format("pontata {}", work.pontata) : "the whole wall");
  if (line_with_remove(bench, where, id + ".remove")) {
    commit(bench, remove_ground(*document, work.wall, work.pontata));
    return ImGui::PopID();
  }
  const auto taken = [&](Problem problem) { bench.session.complain(problem); };
  if (const auto text =
          fields_.draw(bench, {id + ".laid", "Laid on", format_date(work.laid), "", "", FieldKind::date, {}})) {
    const auto date = parse_date(*text);
    date ? (next.laid = *date, changed = true, void()) : taken(date.problem());
  }
  const auto tick = [&](const char* word, const char* name, bool& value) {
    changed |= ImGui::Checkbox(word, &value);
    control(bench, id + name);
  };
  tick("sound", ".sound", next.sound);
  same_row("no salts", -1, true);
  tick("no salts", ".salts", next.no_salts);
  same_row("no damp", -1, true);
  tick("no damp", ".damp", next.no_damp);
  const std::string signed_on = work.signed_on ? format_date(*work.signed_on) : "";
  if (const auto text = fields_.draw(bench, {id + ".signed",
                                             "Signed for on",
                                             signed_on,
                                             "",
                                             "The day it was found good; empty: not yet",
                                             FieldKind::date,
                                             {}})) {
    const auto date = date_or_none(*text, "Signed for on");
    date ? (next.signed_on = *date, changed = true, void()) : taken(date.problem());
  }
  if (const auto text = fields_.draw(bench, {id + ".by", "by", work.signed_by})) next.signed_by = *text, changed = true;
  if (const auto text = fields_.draw(bench, {id + ".remark", "Remark", work.remark}))
    next.remark = *text, changed = true;
  ImGui::PopID();
  if (changed) commit(bench, set_ground(*document, next));
}

void GroundSection::add(Workbench& bench) {
  const auto item = bench.session.wall_item();
  if (!item) return;
  if (laid_.empty()) laid_ = format_date(add_days(bench.session.document()->settings.calendar.start, -30));
  ImGui::Spacing();
  fields_.edit(bench, {"ground.laid", "Arriccio laid on", "", "", "A day, such as 2027-04-01", FieldKind::date, {}},
               laid_);
  fields_.edit(
      bench,
      {"ground.pontata", "Pontata", "", "", "1 is the highest deck; empty: the whole wall", FieldKind::whole, {}},
      pontata_);
  if (ImGui::Button(fitted("Write it down for " + item->name + "###ground.add", 1e6f).c_str())) {
    const auto laid = parse_date(laid_);
    const auto pontata = number_or_none(pontata_, "Pontata");
    if (!laid) return bench.session.complain(laid.problem());
    if (!pontata) return bench.session.complain(pontata.problem());
    GroundWork work;
    work.wall = item->id;
    work.pontata = static_cast<int>(pontata->value_or(0));
    work.laid = *laid;
    commit(bench, set_ground(*bench.session.document(), work));
  }
  control(bench, "ground.add");
}

}  // namespace pontata
