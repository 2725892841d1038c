#include "engine/plaster/putty.h"

#include <fmt/format.h>

#include "editor/verbs/job_report.h"

namespace pontata {

namespace {

constexpr const char* kCaution =
    "Lime putty burns eyes and skin: goggles, gloves, covered arms; rinse at once for 20 minutes and get medical help. "
    "Slaking is violent: lime into water, never water onto lime.";

struct PuttyArguments : ReportArguments {
  std::optional<std::string> name, note;
  std::optional<Date> slaked;
  std::optional<double> litres;
  bool remove = false;
};

int list(const PuttyArguments& a, const Document& doc) {
  const Date start = doc.settings.calendar.start;
  Json json = {{"putty", Json::array()}, {"start", format_date(start)}, {"caution", kCaution}};
  Table table{{{"name", "batch", false},
               {"slaked", "slaked", false},
               {"months_at_start", "months at start"},
               {"litres", "L"},
               {"note", "note", false}},
              {}};
  for (const PuttyBatch& batch : doc.job().putty) {
    const int months = putty_age_months(batch, start);
    json["putty"].push_back({{"name", batch.name},
                             {"slaked", format_date(batch.slaked)},
                             {"months_at_start", months},
                             {"litres", batch.litres},
                             {"note", batch.remark}});
    table.rows.push_back(
        {cell(batch.name), cell(format_date(batch.slaked)), cell(months), cell(batch.litres, 0), cell(batch.remark)});
  }
  const std::string text = table.rows.empty() ? "No putty is written down.\n" : table.text();
  return report_all(a, doc, json, table, text + kCaution + "\n");
}

Result<Edited> changed(const PuttyArguments& a, const Document& doc) {
  if (a.remove) return remove_putty(doc, *a.name);
  const PuttyBatch* before = batch_named(doc.job().putty, *a.name);
  if (!before && !a.slaked)
    return Problem{"the day this putty was slaked is not written down", *a.name, "Give --slaked DATE."};
  PuttyBatch batch = before ? *before : PuttyBatch{*a.name, {}, 0, ""};
  if (a.slaked) batch.slaked = *a.slaked;
  if (a.litres) batch.litres = *a.litres;
  if (a.note) batch.remark = *a.note;
  return set_putty(doc, batch);
}

int run(const PuttyArguments& a) {
  const bool told = a.slaked || a.litres || a.note;
  if (!a.name) {
    if (told || a.remove) return wrong_usage("putty", "NAME is required for a change");
    return with_report("putty", a, [&](const Document& doc, Progress*) { return list(a, doc); });
  }
  if (a.remove == told)
    return wrong_usage("putty", told ? "--remove goes alone" : "give what is to change: --slaked, --litres or --note");
  if (a.csv) return wrong_usage("putty", "--csv lists the batches; it goes without a change");
  return change_job(a, [&](const Document& doc) { return changed(a, doc); });
}

}  // namespace

VerbTask putty_verb(Usage& usage) {
  const auto a = std::make_shared<PuttyArguments>();
  a->declare_json_and_csv(usage);
  usage.may_take(a->name, "NAME", "as it stands on the tub; without it the batches are told");
  usage.date(a->slaked, "--slaked", "day it was slaked");
  usage.number(a->litres, "--litres", "how much there is, in litres");
  usage.text(a->note, "--note", "TEXT", "a remark on it");
  usage.flag(a->remove, "--remove", "take the batch out");
  return [a] { return run(*a); };
}

}  // namespace pontata
