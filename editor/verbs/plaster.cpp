#include <fmt/format.h>

#include "editor/verbs/plaster_tables.h"
#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/cartoon/day_sheet.h"
#include "engine/document/level_report.h"

namespace pontata {

namespace {

struct PlasterArguments : ReportArguments {
  std::optional<std::string> batches, ground, sums, purchase;
};

// Levelling coats of scanned bare walls: their arriccio. Some seconds for a large scan.
Result<LevelCoats> level_coats(const Document& doc, Progress* progress) {
  LevelCoats coats;
  for (const WallId id : walls_to_level(doc)) {
    auto coat = level_coat(*doc.wall(id), doc.settings, progress);
    if (!coat) return coat.problem();
    coats[id] = std::move(*coat);
  }
  return coats;
}

std::string slaking_text(const PlasterPlan& plan) {
  const Slaking& sum = *plan.purchase.slaking;
  std::string text = fmt::format(
      "\nslaking: {} kg of quicklime into {} L of water give {} L ({} kg) of putty; the lime binds {} L of it and "
      "gives "
      "off {} MJ, {} kg stay on the sieve. Keep more water at hand: some boils off, and putty is kept under water.\n",
      format_fixed(sum.quicklime_kg, 1), format_fixed(sum.water_L(), 1), format_fixed(sum.putty_L, 1),
      format_fixed(sum.putty_kg, 1), format_fixed(sum.reaction_water_kg, 1), format_fixed(sum.heat_MJ, 0),
      format_fixed(sum.waste_kg, 1));
  if (plan.slake_by)
    text += fmt::format("slake by {}, so that the putty is ripe when plastering begins on {}\n",
                        format_date(*plan.slake_by), format_date(plan.first_day));
  for (const auto& line : slaking_cautions()) text += std::string(line) + "\n";
  return text;
}

std::string text_of(const Document& doc, const PlasterTables& tables, const PlasterPlan& plan) {
  std::string text = tables.giornate.text();
  text += fmt::format("together: {} L of mortar ({} kg wet) from {}\n", format_fixed(plan.intonaco_sum.mortar_L, 1),
                      format_fixed(wet_kg(plan.intonaco_sum), 0), materials_words(plan.intonaco_sum));
  for (const Coat& coat : doc.settings.plaster.intonaco)
    text += fmt::format("{} coat, {} mm: {}, sand up to {} mm\n", coat.name, format_number(coat.thickness_mm),
                        describe(coat.mix), format_number(coat.grain_mm));
  const auto section = [&](const char* name, const Table& table) {
    if (!table.rows.empty()) text += fmt::format("\n{}\n", name) + table.text();
  };
  section("Intonaco by pontata and week", tables.sums);
  section("Ground: rinzaffo and arriccio", tables.ground);
  section(fmt::format("To buy for the whole job, with {} % in reserve",
                      format_number(doc.settings.plaster.supply.reserve_pct))
              .c_str(),
          tables.purchase);
  if (plan.purchase.slaking) text += slaking_text(plan);
  text += "\n";
  for (const auto& line : plan.warnings) text += "warning: " + line + "\n";
  return text + std::string(kLimeCaution) + "\n";
}

int plaster(const PlasterArguments& a, const Document& doc, Progress* progress) {
  Flow flow;
  const auto coats = level_coats(doc, progress);
  if (!coats) return fail(coats.problem(), a.project);
  const auto plan = plaster_plan(doc, flow, *coats);
  if (!plan) return fail(plan.problem(), a.project);
  const PlasterTables tables = plaster_tables(doc, flow, *plan);
  std::vector<FileToWrite> also;
  for (const auto& [path, table] : {std::pair{a.batches, &tables.batches},
                                    {a.ground, &tables.ground},
                                    {a.sums, &tables.sums},
                                    {a.purchase, &tables.purchase}})
    if (path) also.push_back({*path, table->csv()});
  return report_all(a, doc, plaster_json(doc, flow, *plan), tables.giornate, text_of(doc, tables, *plan),
                    std::move(also));
}

}  // namespace

VerbTask plaster_verb(Usage& usage) {
  const auto a = std::make_shared<PlasterArguments>();
  a->declare_json_and_csv(usage);
  usage.text(a->batches, "--batches", "FILE", "also write each coat's batch as CSV");
  usage.text(a->ground, "--ground", "FILE", "also write rinzaffo and arriccio by wall and pontata as CSV");
  usage.text(a->sums, "--sums", "FILE", "also write the sums by pontata and week as CSV");
  usage.text(a->purchase, "--purchase", "FILE", "also write what is to be bought as CSV");
  return [a] {
    return with_report("plaster", *a,
                       [&](const Document& doc, Progress* progress) { return plaster(*a, doc, progress); });
  };
}

}  // namespace pontata
