#include <fmt/format.h>

#include <optional>

#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/cartoon/day_sheet.h"
#include "engine/document/meeting_names.h"
#include "engine/document/record_names.h"

namespace pontata {

namespace {

// Rows of the plan by giornata.
const GiornataPlan* row_of(const std::vector<GiornataPlan>& rows, GiornataId id) {
  for (const auto& row : rows)
    if (row.id == id) return &row;
  return nullptr;
}

// None where the coats cannot be laid.
std::optional<double> intonaco_L(const GiornataPlan* row) {
  if (!row || !row->need) return std::nullopt;
  double litres = 0;
  for (const auto& coat : row->need->coats) litres += coat.net_L;
  return litres;
}

Cell cell_or_dash(std::optional<double> value, int decimals) { return value ? cell(*value, decimals) : Cell{"", "–"}; }

Json coats_json(const GiornataPlan* row) {
  if (!row || !row->need) return nullptr;
  Json coats = Json::array();
  for (const auto& coat : row->need->coats)
    coats.push_back({{"name", coat.name}, {"thickness_mm", coat.thickness_mm}, {"volume_L", coat.net_L}});
  return coats;
}

Json ids(const std::vector<GiornataId>& list) {
  Json json = Json::array();
  for (const auto id : list) json.push_back(id.value);
  return json;
}

Json giornata_json(const Giornata& record, const GiornataMeasure& measure, const GiornataHours& hours,
                   const GiornataPlan* row) {
  Json json = {{"id", record.id.value},
               {"number", record.number},
               {"label", label_of(record)},
               {"name", record.name},
               {"note", record.note},
               {"state", state_name(record.state)},
               {"printed", record.printed},
               {"changed", record.changed},
               {"area_m2", measure.area_m2},
               {"chart_area_m2", measure.chart_area_m2},
               {"perimeter_m", measure.perimeter_m},
               {"coats", coats_json(row)}};
  json["hours"] = hours.hours ? Json(*hours.hours) : Json();
  json["neighbours"] = ids(measure.neighbours);
  return json;
}

Json meets_json(const Document& doc, const std::vector<MeetsWall>& met, std::optional<GiornataId> giornata) {
  Json json = Json::array();
  for (const WallMet& wall : met_by_wall(met, giornata)) {
    Json one = {{"wall", doc.walls[wall.wall]->name}};
    if (giornata) one["giornate"] = ids(wall.giornate);
    one["length_m"] = wall.length_m;
    json.push_back(std::move(one));
  }
  return json;
}

std::string meets_text(const Document& doc, Flow& flow, const WallItem& item) {
  std::string text;
  for (const auto& g : flow.figures(doc, item.id)->measure.giornate)
    for (const auto& line : meeting_lines(doc, flow, g.id))
      text += fmt::format("giornata {} {}\n", label_of(*doc.giornata(g.id)), line);
  for (const WallMet& wall : met_by_wall((*flow.meetings(doc))[wall_index(doc, item.id)], std::nullopt))
    text += fmt::format("{} {}\n", item.name, meeting_words(doc.walls[wall.wall]->name, wall.length_m, {}));
  return text;
}

Json zones_json(const WallItem& item) {
  Json json = Json::array();
  for (const auto& zone : item.zones)
    json.push_back({{"id", zone.id.value}, {"kind", zone_kind_name(zone.kind)}, {"name", zone.name}});
  return json;
}

std::string zones_text(const WallItem& item) {
  std::string text;
  for (const auto& zone : item.zones)
    text += fmt::format("zone {}: {}{}{}\n", zone.id.value, zone_kind_name(zone.kind), zone.name.empty() ? "" : ", ",
                        zone.name);
  return text;
}

std::string changed_text(const Document& doc, WallId wall) {
  std::string text;
  for (const auto& g : doc.giornate)
    if (g.alive && g.changed && g.wall == wall) text += changed_since_cartoon(g) + "\n";
  return text;
}

struct Measured {
  Json json = {{"walls", Json::array()}};
  Table all{{{"wall", "wall", false},
             {"id", "id"},
             {"number", "no."},
             {"name", "name", false},
             {"area_m2", "area m²"},
             {"perimeter_m", "rim m"},
             {"intonaco_L", "intonaco L"},
             {"hours", "hours"}},
            {}};
  std::string text;
  double area = 0, litres = 0;
  int giornate = 0;
};

void add_wall(Measured& out, const Document& doc, Flow& flow, const WallItem& item, const WallFigures& figures,
              const std::vector<GiornataPlan>& rows) {
  const WallMeasure& m = figures.measure;
  const auto meetings = flow.meetings(doc);
  const auto& met = (*meetings)[wall_index(doc, item.id)];
  const auto box = item.wall->chart->box();
  const auto stretch = item.wall->chart->stretch();
  Json wall = {{"name", item.name},
               {"area_m2", m.area_m2},
               {"raw_area_m2", m.raw_area_m2},
               {"unassigned_m2", m.unassigned_m2},
               {"residual_m2", m.residual_m2},
               {"chart",
                {{"width_m", box.width},
                 {"height_m", box.height},
                 {"min_stretch", stretch.least},
                 {"max_stretch", stretch.greatest}}},
               {"zones", zones_json(item)},
               {"meets", meets_json(doc, met, std::nullopt)},
               {"giornate", Json::array()}};
  Table table{{out.all.columns.begin() + 1, out.all.columns.end()}, {}};
  for (std::size_t i = 0; i < m.giornate.size(); ++i) {
    const auto& g = m.giornate[i];
    const Giornata& record = *doc.giornata(g.id);
    const auto* row = row_of(rows, g.id);
    const auto litres = intonaco_L(row);
    wall["giornate"].push_back(giornata_json(record, g, figures.hours[i], row));
    wall["giornate"].back()["meets"] = meets_json(doc, met, g.id);
    std::vector<Cell> cells{cell(item.name),         cell(static_cast<int>(g.id.value)),
                            cell(label_of(record)),  cell(record.name),
                            cell(g.area_m2, 4),      cell(g.perimeter_m, 3),
                            cell_or_dash(litres, 2), cell_or_dash(figures.hours[i].hours, 1)};
    table.rows.emplace_back(cells.begin() + 1, cells.end());
    out.all.rows.push_back(std::move(cells));
    out.area += g.area_m2;
    out.litres += litres.value_or(0);
    ++out.giornate;
  }
  if (item.scan) wall["old_plaster"] = item.scan->old_plaster ? Json(*item.scan->old_plaster) : Json();
  out.text += fmt::format("{}: {} m², unassigned {} m²\n", item.name, format_fixed(m.area_m2, 3),
                          format_fixed(m.unassigned_m2, 3));
  if (item.scan && item.scan->old_plaster.value_or(false)) out.text += fmt::format("  {}\n", old_plaster_caution());
  if (!table.rows.empty()) out.text += table.text();
  out.text += zones_text(item) + meets_text(doc, flow, item) + changed_text(doc, item.id) + "\n";
  out.json["walls"].push_back(std::move(wall));
}

void note_left_out(const Giornata& g, const Problem& why) {
  note(Problem{why.what + "; its intonaco is left out of the total", "giornata " + giornata_label(g), why.remedy}
           .message());
}

int measure(const ReportArguments& a, const Document& doc) {
  Flow flow;
  const auto rows = flow.giornate(doc);
  Measured out;
  for (const auto& item : doc.walls) add_wall(out, doc, flow, *item, *flow.figures(doc, item->id), *rows);
  out.json["totals"] = {{"area_m2", out.area}, {"intonaco_L", out.litres}, {"giornate", out.giornate}};
  out.text +=
      fmt::format("{} {}: {} m², {} L of intonaco in place\n", out.giornate,
                  out.giornate == 1 ? "giornata" : "giornate", format_fixed(out.area, 3), format_fixed(out.litres, 1));
  for (const auto& row : *rows)
    if (!row.need) note_left_out(*doc.giornata(row.id), row.need.problem());
  return report_all(a, doc, out.json, out.all, out.text);
}

}  // namespace

VerbTask measure_verb(Usage& usage) {
  const auto a = std::make_shared<ReportArguments>();
  a->declare_json_and_csv(usage);
  return [a] { return with_report("measure", *a, [&](const Document& doc, Progress*) { return measure(*a, doc); }); };
}

}  // namespace pontata
