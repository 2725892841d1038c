#include <fmt/format.h>

#include "editor/verbs/project.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

constexpr const char* kCaution =
    "Lime burns eyes and skin: goggles, gloves, covered arms; rinse at once for 20 minutes, get medical help. Keep "
    "sand dust wet.";

Table plaster_table() {
  return {{{"wall", "wall", false},
           {"id", "id"},
           {"number", "no."},
           {"name", "name", false},
           {"open_edge_m", "open edge m"},
           {"mortar_L", "mortar L"},
           {"putty_L", "lime putty L"},
           {"aggregate_L", "sand L"},
           {"putty_kg", "putty kg"},
           {"aggregate_kg", "sand kg"}},
          {}};
}

template <class Need>
Json amounts(const Need& n) {
  return {{"mortar_L", n.mortar_L},
          {"putty_L", n.putty_L},
          {"aggregate_L", n.sand_L},
          {"putty_kg", n.putty_kg},
          {"aggregate_kg", n.sand_kg}};
}

Json coats_json(const GiornataNeed& need) {
  Json coats = Json::array();
  for (const auto& coat : need.coats) {
    Json json = {{"name", coat.name}, {"thickness_mm", coat.thickness_mm}, {"net_L", coat.net_L}};
    json.update(amounts(coat));
    coats.push_back(std::move(json));
  }
  return coats;
}

Json need_json(const Giornata& g, const std::string& wall, const GiornataNeed& need) {
  Json json = {{"id", g.id.value}, {"number", g.number}, {"label", label_of(g)}};
  json.update(amounts(need));
  json["name"] = g.name;
  json["wall"] = wall;
  json["open_edge_m"] = need.open_edge_m;
  json["coats"] = coats_json(need);
  return json;
}

// Warnings and notes of the coats (mixes converted from weight), each once.
std::vector<std::string> notes_of(const Document& doc, const std::vector<GiornataNeed>& needs) {
  std::vector<std::string> notes = mix_warnings(doc.settings.plaster);
  for (std::string& own : own_coat_warnings(doc.giornate, doc.settings.plaster)) notes.push_back(std::move(own));
  for (const auto& need : needs)
    for (const auto& coat : need.coats)
      if (!coat.note.empty() && std::find(notes.begin(), notes.end(), coat.note) == notes.end())
        notes.push_back(coat.note);
  return notes;
}

int plaster(const ReportArguments& a, const Document& doc) {
  Flow flow;
  Json json = {{"giornate", Json::array()}};
  Table table = plaster_table();
  std::vector<GiornataNeed> needs;
  for (const auto& row : *flow.giornate(doc)) {
    const Giornata& g = *doc.giornata(row.id);
    if (!row.need)
      return fail({"giornata " + giornata_label(g) + ": " + row.need.problem().what, "", row.need.problem().remedy},
                  a.project);
    const GiornataNeed& need = *row.need;
    const std::string& wall = doc.wall(row.wall)->name;
    json["giornate"].push_back(need_json(g, wall, need));
    table.rows.push_back({cell(wall), cell(static_cast<int>(g.id.value)), cell(label_of(g)), cell(g.name),
                          cell(need.open_edge_m, 2), cell(need.mortar_L, 1), cell(need.putty_L, 1),
                          cell(need.sand_L, 1), cell(need.putty_kg, 1), cell(need.sand_kg, 1)});
    needs.push_back(need);
  }
  const PlasterTotals totals = plaster_totals(needs);
  const auto notes = notes_of(doc, needs);
  json["totals"] = amounts(totals);
  json["warnings"] = notes;
  json["caution"] = kCaution;
  std::string text = table.text();
  text +=
      fmt::format("together: {} L of mortar from {} L ({} kg) of lime putty and {} L ({} kg) of sand\n",
                  format_fixed(totals.mortar_L, 1), format_fixed(totals.putty_L, 1), format_fixed(totals.putty_kg, 1),
                  format_fixed(totals.sand_L, 1), format_fixed(totals.sand_kg, 1));
  for (const auto& line : notes) text += "warning: " + line + "\n";
  text += std::string(kCaution) + "\n";
  return report_all(a, doc, json, table, text);
}

}  // namespace

VerbTask plaster_verb(Usage& usage) {
  const auto a = std::make_shared<ReportArguments>();
  a->declare_json_and_csv(usage);
  return [a] { return with_report("plaster", *a, [&](const Document& doc, Progress*) { return plaster(*a, doc); }); };
}

}  // namespace pontata
