#include <fmt/format.h>

#include "editor/verbs/job_report.h"

namespace pontata {

namespace {

constexpr const char* kCaution =
    "Cutting or brushing plaster raises dust: goggles, gloves, a mask for fine dust. Old plaster or paint underneath "
    "is "
    "left alone until a conservator has tested it.";

struct GroundArguments : ReportArguments {
  std::optional<std::string> wall, by, note;
  std::optional<Date> laid, signed_on;
  std::optional<std::uint32_t> pontata;
  bool sound = false, no_salts = false, no_damp = false, remove = false;
  int deck() const { return pontata ? static_cast<int>(*pontata) : 0; }
  bool changes() const { return laid || signed_on || by || note || sound || no_salts || no_damp; }
};

const GroundWork* told(const Document& doc, WallId wall, int pontata) {
  for (const GroundWork& work : doc.job().ground)
    if (work.wall == wall && work.pontata == pontata) return &work;
  return nullptr;
}

Json ground_json(const Document& doc, const GroundWork& work) {
  return {{"wall", doc.wall(work.wall)->name},
          {"pontata", work.pontata == 0 ? Json() : Json(work.pontata)},
          {"laid", format_date(work.laid)},
          {"signed", date_json(work.signed_on)},
          {"by", work.signed_by},
          {"sound", work.sound},
          {"no_salts", work.no_salts},
          {"no_damp", work.no_damp},
          {"ready", ready_to_paint(work)},
          {"note", work.remark}};
}

int list(const GroundArguments& a, const Document& doc) {
  Json json = {{"ground", Json::array()}, {"caution", kCaution}};
  Table table{{{"wall", "wall", false},
               {"pontata", "pontata"},
               {"laid", "laid", false},
               {"signed", "signed", false},
               {"by", "by", false},
               {"sound", "sound", false},
               {"no_salts", "no salts", false},
               {"no_damp", "no damp", false},
               {"ready", "ready", false},
               {"note", "note", false}},
              {}};
  for (const GroundWork& work : doc.job().ground) {
    if (a.wall && doc.wall(work.wall)->name != *a.wall) continue;
    json["ground"].push_back(ground_json(doc, work));
    table.rows.push_back({cell(doc.wall(work.wall)->name), work.pontata == 0 ? Cell{"", "all"} : cell(work.pontata),
                          cell(format_date(work.laid)), date_cell(work.signed_on), cell(work.signed_by),
                          truth_cell(work.sound), truth_cell(work.no_salts), truth_cell(work.no_damp),
                          truth_cell(ready_to_paint(work)), cell(work.remark)});
  }
  const std::string text = table.rows.empty() ? "No arriccio is written down.\n" : table.text();
  return report_all(a, doc, json, table, text + kCaution + "\n");
}

Result<Edited> changed(const GroundArguments& a, const Document& doc) {
  const auto wall = find_wall(doc, *a.wall);
  if (!wall) return wall.problem();
  if (a.remove) return remove_ground(doc, *wall, a.deck());
  const GroundWork* before = told(doc, *wall, a.deck());
  if (!before && !a.laid)
    return Problem{"the day its arriccio was laid is not written down", *a.wall, "Give --laid DATE."};
  GroundWork work = before ? *before : GroundWork{*wall, a.deck(), {}, std::nullopt, "", false, false, false, ""};
  if (a.laid) work.laid = *a.laid;
  // Signed for anew: what is found then counts, and nothing from before.
  if (a.signed_on) work.signed_on = a.signed_on, work.sound = work.no_salts = work.no_damp = false;
  if (a.by) work.signed_by = *a.by;
  if (a.note) work.remark = *a.note;
  work.sound |= a.sound, work.no_salts |= a.no_salts, work.no_damp |= a.no_damp;
  return set_ground(doc, work);
}

int run(const GroundArguments& a) {
  if (!a.changes() && !a.remove && !a.pontata)
    return with_report("ground", a, [&](const Document& doc, Progress*) { return list(a, doc); });
  if (!a.wall) return wrong_usage("ground", "WALL is required for a change");
  if (a.remove && a.changes()) return wrong_usage("ground", "--remove goes alone, or with --pontata");
  if (!a.remove && !a.changes()) return wrong_usage("ground", "give what is to change: --laid, --signed, ...");
  if (a.csv) return wrong_usage("ground", "--csv lists the arriccio; it goes without a change");
  return change_job(a, [&](const Document& doc) { return changed(a, doc); });
}

}  // namespace

VerbTask ground_verb(Usage& usage) {
  const auto a = std::make_shared<GroundArguments>();
  a->declare_json_and_csv(usage);
  usage.may_take(a->wall, "WALL", "the wall; with nothing else its arriccio is told");
  usage.date(a->laid, "--laid", "day the arriccio was laid");
  usage.count(a->pontata, "--pontata", "only of this pontata, 1 the highest; else of the whole wall");
  usage.date(a->signed_on, "--signed", "day it was looked at and signed for, with what was found then");
  usage.text(a->by, "--by", "TEXT", "who signed");
  usage.flag(a->sound, "--sound", "found sound: rings full when tapped");
  usage.flag(a->no_salts, "--no-salts", "found without salts");
  usage.flag(a->no_damp, "--no-damp", "found without damp");
  usage.text(a->note, "--note", "TEXT", "a remark on it");
  usage.flag(a->remove, "--remove", "take out what is written down of it");
  return [a] { return run(*a); };
}

}  // namespace pontata
