#include "editor/verbs/plaster_tables.h"

#include <fmt/format.h>

#include "engine/base/units.h"

namespace pontata {

namespace {

using Json = nlohmann::ordered_json;
using Cells = std::vector<Cell>;
using Columns = std::vector<Table::Column>;

const Columns kMaterialColumns{
    {"mortar_L", "mortar L"},       {"putty_L", "lime putty L"},      {"putty_kg", "putty kg"},
    {"aggregate_L", "aggregate L"}, {"aggregate_kg", "aggregate kg"}, {"wet_kg", "wet kg"},
    {"buckets", "buckets"}};

Columns with_materials(Columns columns) {
  columns.insert(columns.end(), kMaterialColumns.begin(), kMaterialColumns.end());
  return columns;
}

void add_materials(Cells& cells, double mortar_L, const Materials& m, const SupplySettings& supply) {
  for (Cell& one :
       Cells{cell(mortar_L, 1), cell(m.putty_L, 1), cell(m.putty_kg, 1), cell(m.sand_L + m.marble_L + m.pozzolana_L, 1),
             cell(m.sand_kg + m.marble_kg + m.pozzolana_kg, 1), cell(wet_kg(m), 1), cell(buckets(mortar_L, supply), 1)})
    cells.push_back(std::move(one));
}

Json amounts(double mortar_L, const Materials& materials, const SupplySettings& supply) {
  Json json = {{"mortar_L", mortar_L}};
  json.update(materials_json(materials));
  json["buckets"] = buckets(mortar_L, supply);
  return json;
}

// --- Giornate and batches ---

Json coat_json(const CoatNeed& coat, const SupplySettings& supply) {
  Json json = {{"name", coat.name}, {"thickness_mm", coat.thickness_mm}, {"net_L", coat.net_L}};
  json.update(amounts(coat.mortar_L, coat, supply));
  json["mix"] = format_mix(coat.mix);
  json["grain_mm"] = coat.grain_mm;
  return json;
}

Json coats_json(const std::vector<CoatNeed>& coats, const SupplySettings& supply) {
  Json json = Json::array();
  for (const CoatNeed& coat : coats) json.push_back(coat_json(coat, supply));
  return json;
}

Json batch_json(GiornataId id, const CoatNeed& coat, const SupplySettings& supply) {
  Json json = {{"id", id.value}, {"coat", coat.name}, {"mix", format_mix(coat.mix)}, {"grain_mm", coat.grain_mm}};
  json.update(amounts(coat.mortar_L, coat, supply));
  json["putty_buckets"] = buckets(coat.putty_L, supply);
  json["sand_buckets"] = buckets(coat.damp_sand_L, supply);
  json["marble_dust_buckets"] = buckets(coat.marble_L, supply);
  json["pozzolana_buckets"] = buckets(coat.pozzolana_L, supply);
  return json;
}

Json giornata_json(const Document& doc, const GiornataPlan& row) {
  const SupplySettings& supply = doc.settings.plaster.supply;
  const Giornata& g = *doc.giornata(row.id);
  const GiornataNeed& need = *row.need;
  Json json = {{"id", g.id.value}, {"number", g.number}, {"label", label_of(g)}};
  json.update(amounts(need.mortar_L, need, supply));
  json["name"] = g.name;
  json["wall"] = doc.wall(row.wall)->name;
  json["pontata"] = row.day.pontata;
  json["date"] = row.day.dated ? Json(format_date(row.day.date)) : Json();
  json["open_edge_m"] = need.open_edge_m;
  json["coats"] = coats_json(need.coats, supply);
  json["batches"] = Json::array();
  for (const CoatNeed& coat : need.coats) json["batches"].push_back(batch_json(g.id, coat, supply));
  return json;
}

Table giornate_table(const Document& doc, const std::vector<GiornataPlan>& rows) {
  Table table{with_materials({{"wall", "wall", false},
                              {"id", "id"},
                              {"number", "no."},
                              {"name", "name", false},
                              {"open_edge_m", "open edge m"}}),
              {}};
  for (const GiornataPlan& row : rows) {
    const Giornata& g = *doc.giornata(row.id);
    Cells cells{cell(doc.wall(row.wall)->name), cell(static_cast<int>(g.id.value)), cell(label_of(g)), cell(g.name),
                cell(row.need->open_edge_m, 2)};
    add_materials(cells, row.need->mortar_L, *row.need, doc.settings.plaster.supply);
    table.rows.push_back(std::move(cells));
  }
  return table;
}

Table batches_table(const Document& doc, const std::vector<GiornataPlan>& rows) {
  const SupplySettings& supply = doc.settings.plaster.supply;
  Columns columns = with_materials(
      {{"id", "id"}, {"number", "no."}, {"coat", "coat", false}, {"mix", "mix", false}, {"grain_mm", "grain mm"}});
  for (const char* key : {"putty_buckets", "sand_buckets", "marble_dust_buckets", "pozzolana_buckets"})
    columns.push_back({key, key});
  Table table{std::move(columns), {}};
  for (const GiornataPlan& row : rows)
    for (const CoatNeed& coat : row.need->coats) {
      Cells cells{cell(static_cast<int>(row.id.value)), cell(label_of(*doc.giornata(row.id))), cell(coat.name),
                  cell(format_mix(coat.mix)), cell(coat.grain_mm, 1)};
      add_materials(cells, coat.mortar_L, coat, supply);
      for (const double litres : {coat.putty_L, coat.damp_sand_L, coat.marble_L, coat.pozzolana_L})
        cells.push_back(cell(buckets(litres, supply), 1));
      table.rows.push_back(std::move(cells));
    }
  return table;
}

// --- Sums ---

std::string week_name(const WeekSum& sum) { return sum.week ? format_week(*sum.week) : "done"; }

Json sum_json(const MortarSum& sum, const SupplySettings& supply) {
  Json json = {{"giornate", sum.parts}, {"area_m2", sum.area_m2}};
  json.update(amounts(sum.mortar_L, sum, supply));
  return json;
}

Json pontate_json(const PlasterPlan& plan, const SupplySettings& supply) {
  Json list = Json::array();
  for (const PontataSum& sum : plan.per_pontata) {
    Json json = {{"pontata", sum.pontata}};
    json.update(sum_json(sum, supply));
    list.push_back(std::move(json));
  }
  return list;
}

Json weeks_json(const PlasterPlan& plan, const SupplySettings& supply) {
  Json list = Json::array();
  for (const WeekSum& sum : plan.per_week) {
    Json json = {{"week", week_name(sum)}, {"monday", sum.week ? Json(format_date(sum.week->monday)) : Json()}};
    json.update(sum_json(sum, supply));
    list.push_back(std::move(json));
  }
  return list;
}

Table sums_table(const PlasterPlan& plan, const SupplySettings& supply) {
  Table table{with_materials(
                  {{"pontata", "pontata"}, {"week", "week", false}, {"giornate", "giornate"}, {"area_m2", "area m²"}}),
              {}};
  const auto add = [&](const std::string& pontata, const std::string& week, const MortarSum& sum) {
    Cells cells{cell(pontata), cell(week), cell(sum.parts), cell(sum.area_m2, 2)};
    add_materials(cells, sum.mortar_L, sum, supply);
    table.rows.push_back(std::move(cells));
  };
  for (const PontataSum& sum : plan.per_pontata) add(std::to_string(sum.pontata), "", sum);
  for (const WeekSum& sum : plan.per_week) add("", week_name(sum), sum);
  return table;
}

// --- Ground ---

Json ground_json(const Document& doc, const PlasterPlan& plan) {
  const SupplySettings& supply = doc.settings.plaster.supply;
  Json list = Json::array();
  for (const GroundRow& row : plan.ground) {
    Json json = {{"wall", doc.wall(row.wall)->name},
                 {"pontata", row.pontata ? Json(*row.pontata) : Json()},
                 {"area_m2", row.area_m2}};
    json.update(amounts(row.need.mortar_L, row.need, supply));
    json["keys_L"] = row.need.keys_L;
    json["levelled"] = row.levelled;
    json["laid"] = row.laid ? Json(format_date(*row.laid)) : Json();
    json["signed"] = row.signed_for;
    json["coats"] = coats_json(row.need.coats, supply);
    list.push_back(std::move(json));
  }
  return list;
}

Table ground_table(const Document& doc, const PlasterPlan& plan) {
  Columns columns = with_materials({{"wall", "wall", false}, {"pontata", "pontata"}, {"area_m2", "area m²"}});
  for (const Table::Column& column : {Table::Column{"keys_L", "keys L"},
                                      {"levelled", "levelled", false},
                                      {"laid", "laid", false},
                                      {"signed", "signed", false}})
    columns.push_back(column);
  Table table{std::move(columns), {}};
  for (const GroundRow& row : plan.ground) {
    Cells cells{cell(doc.wall(row.wall)->name), row.pontata ? cell(*row.pontata) : Cell{"", "rest"},
                cell(row.area_m2, 2)};
    add_materials(cells, row.need.mortar_L, row.need, doc.settings.plaster.supply);
    cells.push_back(cell(row.need.keys_L, 1));
    for (const bool yes : {row.levelled}) cells.push_back({yes ? "true" : "false", yes ? "yes" : "no"});
    cells.push_back(row.laid ? cell(format_date(*row.laid)) : Cell{"", "-"});
    cells.push_back({row.signed_for ? "true" : "false", row.signed_for ? "yes" : "no"});
    table.rows.push_back(std::move(cells));
  }
  return table;
}

// --- Purchase ---

Json purchase_json(const Purchase& purchase) {
  Json list = Json::array();
  for (const PurchaseLine& line : purchase.lines)
    list.push_back({{"material", line.material},
                    {"grain_mm", line.grain_mm ? Json(*line.grain_mm) : Json()},
                    {"litres", line.litres},
                    {"kg", line.kg},
                    {"tonnes", line.tonnes()},
                    {"buckets", line.buckets},
                    {"dry_L", line.dry_L},
                    {"dry_kg", line.dry_kg}});
  return list;
}

Table purchase_table(const Purchase& purchase) {
  Table table{{{"material", "material", false},
               {"grain_mm", "grain mm"},
               {"litres", "L"},
               {"kg", "kg"},
               {"tonnes", "tonnes"},
               {"buckets", "buckets"},
               {"dry_L", "dry L"},
               {"dry_kg", "dry kg"}},
              {}};
  for (const PurchaseLine& line : purchase.lines)
    table.rows.push_back({cell(line.material), cell(line.grain_mm, 1), cell(line.litres, 0), cell(line.kg, 0),
                          cell(line.tonnes(), 2), cell(line.buckets, 1), cell(line.dry_L, 0), cell(line.dry_kg, 0)});
  return table;
}

Json slaking_json(const PlasterPlan& plan) {
  if (!plan.purchase.slaking) return nullptr;
  const Slaking& sum = *plan.purchase.slaking;
  Json json = {{"putty_L", sum.putty_L},
               {"putty_kg", sum.putty_kg},
               {"hydrate_kg", sum.hydrate_kg},
               {"quicklime_kg", sum.quicklime_kg},
               {"left_on_the_sieve_kg", sum.waste_kg},
               {"reaction_water_kg", sum.reaction_water_kg},
               {"putty_water_kg", sum.putty_water_kg},
               {"water_L", sum.water_L()},
               {"heat_MJ", sum.heat_MJ},
               {"slake_by", plan.slake_by ? Json(format_date(*plan.slake_by)) : Json()},
               {"cautions", Json::array()}};
  for (const auto& line : slaking_cautions()) json["cautions"].push_back(std::string(line));
  return json;
}

}  // namespace

PlasterTables plaster_tables(const Document& doc, Flow& flow, const PlasterPlan& plan) {
  const auto rows = flow.giornate(doc);
  const SupplySettings& supply = doc.settings.plaster.supply;
  return {giornate_table(doc, *rows), batches_table(doc, *rows), ground_table(doc, plan), sums_table(plan, supply),
          purchase_table(plan.purchase)};
}

Json plaster_json(const Document& doc, Flow& flow, const PlasterPlan& plan) {
  const SupplySettings& supply = doc.settings.plaster.supply;
  Json json = {{"giornate", Json::array()}};
  for (const GiornataPlan& row : *flow.giornate(doc)) json["giornate"].push_back(giornata_json(doc, row));
  json["totals"] = amounts(plan.intonaco_sum.mortar_L, plan.intonaco_sum, supply);
  json["ground"] = ground_json(doc, plan);
  json["ground_totals"] = amounts(plan.ground_sum.mortar_L, plan.ground_sum, supply);
  json["per_pontata"] = pontate_json(plan, supply);
  json["per_week"] = weeks_json(plan, supply);
  json["purchase"] = purchase_json(plan.purchase);
  json["to_come"] = purchase_json(plan.to_come);
  json["slaking"] = slaking_json(plan);
  json["warnings"] = plan.warnings;
  json["caution"] = kLimeCaution;
  return json;
}

}  // namespace pontata
