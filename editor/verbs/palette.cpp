#include <fmt/format.h>

#include "editor/verbs/job_report.h"
#include "engine/base/text.h"
#include "engine/palette/pigments.h"

namespace pontata {

namespace {

constexpr const char* kCaution =
    "Pigment dust is harmful: wet it, or extract it; no food or drink beside it. What a maker's safety sheet says "
    "comes "
    "first.";

struct PaletteArguments : ReportArguments {
  std::optional<std::uint32_t> id;
  std::optional<std::string> pigments;
};

// The table of pigments, and what each giornata uses.
int list(const PaletteArguments& a, const Document& doc) {
  Json json = {{"pigments", Json::array()}, {"giornate", Json::array()}, {"caution", kCaution}};
  Table table{{{"common", "pigment", false},
               {"colour_index", "Colour Index", false},
               {"fastness", "in lime", false},
               {"why", "why", false},
               {"source", "source", false},
               {"caution", "caution", false}},
              {}};
  for (const Pigment& p : pigments()) {
    json["pigments"].push_back({{"common", p.common},
                                {"colour_index", p.colour_index},
                                {"fastness", fastness_word(p.fastness)},
                                {"why", p.why},
                                {"source", p.source},
                                {"caution", p.caution}});
    table.rows.push_back({cell(std::string(p.common)), cell(std::string(p.colour_index)),
                          cell(std::string(fastness_word(p.fastness))), cell(std::string(p.why)),
                          cell(std::string(p.source)), cell(std::string(p.caution))});
  }
  std::string text = table.text();
  for (const GiornataJob& told : doc.job().giornate) {
    if (told.palette.empty()) continue;
    json["giornate"].push_back({{"id", told.id.value},
                                {"label", label_by_id(doc, told.id)},
                                {"pigments", told.palette},
                                {"words", palette_words(told.palette)}});
    text += fmt::format("giornata {}: {}\n", label_by_id(doc, told.id), fmt::join(told.palette, ", "));
  }
  return report_all(a, doc, json, table, text + kCaution + "\n");
}

int tell_one(const PaletteArguments& a, const Document& doc) {
  const GiornataId id{*a.id};
  if (!doc.giornata(id))
    return fail({fmt::format("there is no giornata with the id {}", id.value), "", "measure --json lists the ids."},
                a.project);
  const GiornataJob* told = of_giornata(doc.job(), id);
  const std::vector<std::string> palette = told ? told->palette : std::vector<std::string>{};
  Json json = {{"id", id.value},
               {"label", label_by_id(doc, id)},
               {"pigments", Json::array()},
               {"words", palette_words(palette)},
               {"caution", kCaution}};
  Table table{{{"pigment", "pigment", false}, {"colour_index", "Colour Index", false}, {"fastness", "in lime", false}},
              {}};
  for (const std::string& name : palette) {
    const Pigment* p = pigment_named(name);
    json["pigments"].push_back({{"listed", name},
                                {"common", p ? Json(p->common) : Json()},
                                {"colour_index", p ? Json(p->colour_index) : Json()},
                                {"fastness", p ? Json(fastness_word(p->fastness)) : Json()}});
    table.rows.push_back({cell(p ? std::string(p->common) : name), cell(p ? std::string(p->colour_index) : ""),
                          cell(p ? std::string(fastness_word(p->fastness)) : "not known")});
  }
  std::string text = palette.empty() ? "No pigments are listed.\n" : table.text();
  for (const auto& word : palette_words(palette)) text += "note: " + word + "\n";
  return report_all(a, doc, json, table, text + kCaution + "\n");
}

int run(const PaletteArguments& a) {
  if (a.pigments && !a.id) return wrong_usage("palette", "ID is required with --pigments");
  if (!a.pigments)
    return with_report("palette", a,
                       [&](const Document& doc, Progress*) { return a.id ? tell_one(a, doc) : list(a, doc); });
  if (a.csv) return wrong_usage("palette", "--csv lists pigments; it goes without a change");
  std::vector<std::string> names;
  if (a.pigments->find_first_not_of(' ') != std::string::npos) names = split(*a.pigments, ',');
  const int status = change_job(a, [&](const Document& doc) { return set_palette(doc, GiornataId{*a.id}, names); });
  if (status == kExitDone)
    for (const auto& word : palette_words(names)) note(word);
  return status;
}

}  // namespace

VerbTask palette_verb(Usage& usage) {
  const auto a = std::make_shared<PaletteArguments>();
  a->declare_json_and_csv(usage);
  usage.may_take_id(a->id, "ID", "a giornata's id; without it the table of pigments");
  usage.text(a->pigments, "--pigments", "LIST",
             "its pigments by Colour Index or common name, with commas: \"PR 102,PB 28\"; empty for none");
  return [a] { return run(*a); };
}

}  // namespace pontata
