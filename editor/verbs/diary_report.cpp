#include "editor/verbs/diary_report.h"

#include <fmt/format.h>

#include <set>

#include "engine/base/text.h"
#include "engine/base/units.h"
#include "engine/document/record_names.h"

namespace pontata {

namespace {

std::set<std::uint32_t> corrected_ids(const Job& job) {
  std::set<std::uint32_t> ids;
  for (const DiaryRef& entry : job.diary) ids.insert(entry->corrects);
  return ids;
}

Cell id_cell(std::uint32_t id) { return id == 0 ? Cell{"", "-"} : cell(static_cast<int>(id)); }
Json id_json(std::uint32_t id) { return id == 0 ? Json() : Json(id); }
std::optional<double> air_of(const DiaryEntry& e, double Air::*part) {
  return e.air ? std::optional((*e.air).*part) : std::nullopt;
}

Json rings_json(const std::vector<Ring>& rings) {
  Json json = Json::array();
  for (const Ring& ring : rings) {
    Json places = Json::array();
    for (const LatticePoint p : ring) places.push_back({to_chart(p).u, to_chart(p).v});
    json.push_back(std::move(places));
  }
  return json;
}

Json areas_json(const SubjectAreas& areas) {
  Json json = Json::object();
  for (std::size_t s = 0; s < kSubjects; ++s) json[std::string(subject_name(static_cast<Subject>(s)))] = areas[s];
  return json;
}

Json entry_json(const Document& doc, const DiaryEntry& e, bool stands) {
  return {{"entry", e.id},
          {"corrects", id_json(e.corrects)},
          {"stands", stands},
          {"id", e.giornata.value},
          {"label", label_by_id(doc, e.giornata)},
          {"attempt", e.attempt},
          {"date", format_date(e.date)},
          {"hours", number_json(e.hours)},
          {"lay_hours", number_json(e.lay_hours)},
          {"window_h", number_json(e.window_h)},
          {"temperature_c", number_json(air_of(e, &Air::temperature_c))},
          {"humidity_pct", number_json(air_of(e, &Air::humidity_pct))},
          {"air_km_h", number_json(air_of(e, &Air::movement_km_h))},
          {"light", e.light},
          {"mix", e.mix},
          {"putty", e.putty},
          {"photo", e.photo},
          {"photo_sha256", e.photo_sha256},
          {"area_m2", e.area_m2},
          {"areas_m2", areas_json(e.areas)},
          {"planned_on", date_json(e.planned_on)},
          {"planned_hours", number_json(e.planned_hours)},
          {"planned", rings_json(e.planned)},
          {"cut", rings_json(e.cut)},
          {"rest", id_json(e.rest.value)},
          {"failed", e.failed},
          {"failed_on", date_json(e.failed_on)},
          {"failed_why", e.failed_why},
          {"note", e.remarks}};
}

std::vector<Cell> entry_cells(const Document& doc, const DiaryEntry& e, bool stands) {
  return {id_cell(e.id),
          id_cell(e.corrects),
          truth_cell(stands),
          cell(format_date(e.date)),
          id_cell(e.giornata.value),
          cell(label_by_id(doc, e.giornata)),
          cell(e.attempt),
          cell(e.hours, 1),
          cell(e.lay_hours, 1),
          cell(e.window_h, 1),
          cell(air_of(e, &Air::temperature_c), 1),
          cell(air_of(e, &Air::humidity_pct), 0),
          cell(air_of(e, &Air::movement_km_h), 1),
          cell(e.area_m2, 3),
          truth_cell(!e.cut.empty()),
          id_cell(e.rest.value),
          truth_cell(e.failed),
          date_cell(e.failed_on),
          cell(e.failed_why),
          cell(e.light),
          cell(e.mix),
          cell(e.putty),
          cell(e.photo),
          cell(e.remarks)};
}

}  // namespace

Table diary_table(const Document& doc, std::optional<GiornataId> only) {
  Table table{{{"entry", "entry"},
               {"corrects", "corrects"},
               {"stands", "stands", false},
               {"date", "date", false},
               {"id", "id"},
               {"label", "no."},
               {"attempt", "attempt"},
               {"hours", "hours"},
               {"lay_hours", "laying h"},
               {"window_h", "window h"},
               {"temperature_c", "°C"},
               {"humidity_pct", "%"},
               {"air_km_h", "air km/h"},
               {"area_m2", "area m²"},
               {"cut", "cut", false},
               {"rest", "rest id"},
               {"failed", "failed", false},
               {"failed_on", "found", false},
               {"failed_why", "why", false},
               {"light", "light", false},
               {"mix", "mix", false},
               {"putty", "putty", false},
               {"photo", "photo", false},
               {"note", "note", false}},
              {}};
  const auto corrected = corrected_ids(doc.job());
  for (const DiaryRef& e : doc.job().diary)
    if (!only || e->giornata == *only) table.rows.push_back(entry_cells(doc, *e, !corrected.contains(e->id)));
  return table;
}

Json diary_json(const Document& doc, std::optional<GiornataId> only) {
  const auto corrected = corrected_ids(doc.job());
  Json json = Json::array();
  for (const DiaryRef& e : doc.job().diary)
    if (!only || e->giornata == *only) json.push_back(entry_json(doc, *e, !corrected.contains(e->id)));
  return json;
}

namespace {

std::vector<Cell> plan_cells(const Document& doc, const PlanAndFact& row) {
  const Giornata& g = *doc.giornata(row.id);
  return {cell(doc.wall(row.wall)->name), id_cell(row.id.value), cell(label_of(g)), cell(g.name),
          cell(std::string(state_name(g.state)))};
}

std::vector<Cell> fact_cells(const PlanAndFact& row, const AttemptFact* fact) {
  if (!fact)
    return {Cell{"", "-"},       date_cell(row.date), Cell{"", "-"},          cell(row.hours, 1),
            Cell{"", "-"},       Cell{"", "-"},       cell(row.area_m2, 3),   Cell{"", "-"},
            cell(row.litres, 1), Cell{"", "-"},       cell(std::string("no"))};
  const bool last = fact == &row.facts.back();
  return {cell(fact->attempt),          date_cell(fact->planned_on), date_cell(fact->from),
          cell(fact->planned_hours, 1), cell(fact->hours, 1),        cell(fact->lay_hours, 1),
          cell(fact->laid_m2, 3),       cell(fact->area_m2, 3),      cell(last ? row.litres : std::nullopt, 1),
          cell(fact->litres, 1),        truth_cell(fact->failed)};
}

Json attempt_json(const AttemptFact& fact) {
  return {{"attempt", fact.attempt},
          {"planned_date", date_json(fact.planned_on)},
          {"date", format_date(fact.from)},
          {"to", format_date(fact.to)},
          {"planned_hours", number_json(fact.planned_hours)},
          {"hours", number_json(fact.hours)},
          {"lay_hours", number_json(fact.lay_hours)},
          {"planned_area_m2", fact.laid_m2},
          {"area_m2", fact.area_m2},
          {"laid_L", number_json(fact.litres)},
          {"failed", fact.failed},
          {"entries", fact.entries}};
}

}  // namespace

// A giornata to be done again has its failed attempts, then a row of what is planned for the next.
Table plan_and_fact_table(const Document& doc, std::span<const PlanAndFact> rows) {
  Table table{{{"wall", "wall", false},
               {"id", "id"},
               {"label", "no."},
               {"name", "name", false},
               {"state", "state", false},
               {"attempt", "attempt"},
               {"planned_date", "planned", false},
               {"date", "painted", false},
               {"planned_hours", "planned h"},
               {"hours", "hours"},
               {"lay_hours", "laying h"},
               {"planned_area_m2", "planned m²"},
               {"area_m2", "painted m²"},
               {"planned_L", "planned L"},
               {"laid_L", "laid L"},
               {"failed", "failed", false}},
              {}};
  const auto add = [&](const PlanAndFact& row, const AttemptFact* fact) {
    auto cells = plan_cells(doc, row);
    for (Cell& more : fact_cells(row, fact)) cells.push_back(std::move(more));
    table.rows.push_back(std::move(cells));
  };
  for (const PlanAndFact& row : rows) {
    for (const AttemptFact& fact : row.facts) add(row, &fact);
    if (doc.giornata(row.id)->state != GiornataState::done) add(row, nullptr);
  }
  return table;
}

Json plan_and_fact_json(const Document& doc, std::span<const PlanAndFact> rows) {
  Json json = Json::array();
  for (const PlanAndFact& row : rows) {
    const Giornata& g = *doc.giornata(row.id);
    Json one = {{"wall", doc.wall(row.wall)->name},
                {"id", row.id.value},
                {"label", label_of(g)},
                {"name", g.name},
                {"state", state_name(g.state)},
                {"planned_date", date_json(row.date)},
                {"planned_hours", number_json(row.hours)},
                {"planned_area_m2", row.area_m2},
                {"planned_L", number_json(row.litres)},
                {"attempts", Json::array()}};
    for (const AttemptFact& fact : row.facts) one["attempts"].push_back(attempt_json(fact));
    json.push_back(std::move(one));
  }
  return json;
}

namespace {

Json rate_json(const RateEstimate& rate) {
  return {{"m2_per_h", rate.m2_per_h}, {"least", rate.least}, {"most", rate.most}, {"days", rate.days}};
}

// The setting that a rate of painting belongs to.
std::string key_of(Subject subject) {
  return subject == Subject::none ? "rate" : "rate.of." + std::string(subject_name(subject));
}

std::string rate_line(const std::string& what, const RateEstimate& rate) {
  return fmt::format("{:<14} {} m²/h ({} to {}, {} days)\n", what, format_fixed(rate.m2_per_h, 3),
                     format_fixed(rate.least, 3), format_fixed(rate.most, 3), rate.days);
}

std::string command(const std::string& project, const std::string& key, double value) {
  return fmt::format("  pontata set {} {} {}\n", project, key, short_decimal(value, 4));
}

}  // namespace

Json estimates_json(const Estimates& found) {
  Json json = {
      {"days", found.days}, {"rates", Json::object()}, {"laying", Json()}, {"window", Json()}, {"notes", found.notes}};
  for (const RateEstimate& rate : found.rates) json["rates"][std::string(subject_name(rate.subject))] = rate_json(rate);
  if (found.laying) json["laying"] = rate_json(*found.laying);
  if (found.window)
    json["window"] = {{"base_h", found.window->base_h},
                      {"least", found.window->least},
                      {"most", found.window->most},
                      {"days", found.window->days}};
  return json;
}

std::string estimates_text(const Estimates& found, const std::string& project) {
  std::string text =
      fmt::format("From {} days with hours; in brackets what 95 of 100 such diaries would allow.\n", found.days);
  std::string commands;
  for (const RateEstimate& rate : found.rates) {
    text += rate_line(rate.subject == Subject::none ? "elsewhere" : std::string(subject_name(rate.subject)), rate);
    commands += command(project, key_of(rate.subject), rate.m2_per_h);
  }
  if (found.laying) {
    text += rate_line("laying", *found.laying);
    commands += command(project, "rate.laying", found.laying->m2_per_h);
  }
  if (const auto& w = found.window) {
    text += fmt::format("{:<14} {} h ({} to {}, {} days)\n", "base window", format_fixed(w->base_h, 1),
                        format_fixed(w->least, 1), format_fixed(w->most, 1), w->days);
    commands += command(project, "window.base", w->base_h);
  }
  for (const auto& note : found.notes) text += "note: " + note + "\n";
  if (!commands.empty()) text += "To take it over:\n" + commands;
  return text;
}

}  // namespace pontata
