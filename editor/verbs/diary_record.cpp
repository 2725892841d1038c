// The record's files.
#include <fmt/format.h>

#include "editor/verbs/diary_report.h"
#include "engine/palette/pigments.h"

namespace pontata {

namespace {

Table overlap_table(const Document& doc) {
  Table table{{{"wall", ""},
               {"earlier_id", ""},
               {"earlier", ""},
               {"later_id", ""},
               {"later", ""},
               {"same_day", ""},
               {"seam_m", ""}},
              {}};
  for (const auto& item : doc.walls)
    for (const Overlap& over : overlaps(doc, item->id))
      table.rows.push_back({cell(item->name), cell(static_cast<int>(over.earlier.value)),
                            cell(label_by_id(doc, over.earlier)), cell(static_cast<int>(over.later.value)),
                            cell(label_by_id(doc, over.later)), truth_cell(over.same_day), cell(over.length_m, 3)});
  return table;
}

Table weather_table(const Document& doc) {
  Table table{{{"date", ""}, {"temperature_c", ""}, {"humidity_pct", ""}, {"air_km_h", ""}, {"night_low_c", ""}}, {}};
  for (const DayWeather& day : doc.job().weather)
    table.rows.push_back({cell(format_date(day.date)), cell(day.air.temperature_c, 1), cell(day.air.humidity_pct, 0),
                          cell(day.air.movement_km_h, 1), cell(day.night_low_c, 1)});
  return table;
}

Table ground_table(const Document& doc) {
  Table table{{{"wall", ""},
               {"pontata", ""},
               {"laid", ""},
               {"signed", ""},
               {"by", ""},
               {"sound", ""},
               {"no_salts", ""},
               {"no_damp", ""},
               {"note", ""}},
              {}};
  for (const GroundWork& work : doc.job().ground)
    table.rows.push_back({cell(doc.wall(work.wall)->name), work.pontata == 0 ? Cell{"", ""} : cell(work.pontata),
                          cell(format_date(work.laid)), date_cell(work.signed_on), cell(work.signed_by),
                          truth_cell(work.sound), truth_cell(work.no_salts), truth_cell(work.no_damp),
                          cell(work.remark)});
  return table;
}

Table putty_table(const Document& doc) {
  Table table{{{"batch", ""}, {"slaked", ""}, {"litres", ""}, {"note", ""}}, {}};
  for (const PuttyBatch& batch : doc.job().putty)
    table.rows.push_back(
        {cell(batch.name), cell(format_date(batch.slaked)), cell(batch.litres, 0), cell(batch.remark)});
  return table;
}

Table pigment_table(const Document& doc) {
  Table table{{{"id", ""},
               {"label", ""},
               {"listed", ""},
               {"common", ""},
               {"colour_index", ""},
               {"in_lime", ""},
               {"source", ""}},
              {}};
  for (const GiornataJob& told : doc.job().giornate)
    for (const std::string& name : told.palette) {
      const Pigment* p = pigment_named(name);
      table.rows.push_back({cell(static_cast<int>(told.id.value)), cell(label_by_id(doc, told.id)), cell(name),
                            cell(p ? std::string(p->common) : ""), cell(p ? std::string(p->colour_index) : ""),
                            cell(p ? std::string(fastness_word(p->fastness)) : ""),
                            cell(p ? std::string(p->source) : "")});
    }
  return table;
}

Table secco_table(const Document& doc) {
  Table table{{{"finish", ""},
               {"id", ""},
               {"label", ""},
               {"what", ""},
               {"binder", ""},
               {"area_m2", ""},
               {"hours", ""},
               {"date", ""}},
              {}};
  for (const SeccoWork& work : doc.job().secco)
    table.rows.push_back({cell(static_cast<int>(work.id)), cell(static_cast<int>(work.giornata.value)),
                          cell(label_by_id(doc, work.giornata)), cell(work.what), cell(work.binder),
                          cell(work.area_m2, 2), cell(work.hours, 1), date_cell(work.date)});
  return table;
}

}  // namespace

std::vector<FileToWrite> record_files(const Document& doc, Flow& flow, const std::string& folder) {
  const auto rows = plan_and_facts(doc, flow);
  std::vector<FileToWrite> files;
  const auto add = [&](const char* name, const Table& table) { files.push_back({folder + "/" + name, table.csv()}); };
  add("diary.csv", diary_table(doc));
  add("plan-and-fact.csv", plan_and_fact_table(doc, rows));
  add("overlaps.csv", overlap_table(doc));
  add("weather.csv", weather_table(doc));
  add("arriccio.csv", ground_table(doc));
  add("putty.csv", putty_table(doc));
  add("pigments.csv", pigment_table(doc));
  add("finishes.csv", secco_table(doc));
  files.push_back(
      {folder + "/diary.json", to_text({{"diary", diary_json(doc)}, {"giornate", plan_and_fact_json(doc, rows)}})});
  return files;
}

}  // namespace pontata
