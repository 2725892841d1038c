#include <fmt/format.h>

#include <filesystem>

#include "editor/verbs/diary_report.h"
#include "editor/verbs/line_output.h"
#include "editor/verbs/points_file.h"

namespace pontata {

namespace {

struct DiaryArguments : ReportArguments {
  std::optional<std::uint32_t> id, corrects;
  std::optional<Date> date;
  std::optional<double> hours, laying, window, temperature, humidity, air;
  std::optional<std::string> mix, putty, light, photo, cut, note, why, record;
  std::optional<ChartPoint> painted;
  bool redo = false, estimates = false, plan = false;

  bool tells_day() const {
    return hours || laying || window || temperature || humidity || air || mix || putty || light || photo || cut ||
           note || painted;
  }
  bool writes() const { return tells_day() || date || corrects || redo || why; }
};

Json part_json(const Document& doc, GiornataId id) { return {{"id", id.value}, {"label", label_by_id(doc, id)}}; }

void tell_written(const DiaryArguments& a, const DiaryEdited& edited) {
  const Document& doc = *edited.document;
  const DiaryEntry& entry = *doc.job().diary[edited.entry - 1];
  if (a.json) {
    Json json = {{"entry", entry.id},        {"id", entry.giornata.value}, {"label", label_by_id(doc, entry.giornata)},
                 {"attempt", entry.attempt}, {"area_m2", entry.area_m2},   {"rests", Json::array()}};
    for (const GiornataId rest : edited.rests) json["rests"].push_back(part_json(doc, rest));
    return print(to_text(json));
  }
  std::string text = fmt::format("{} (entry {}, attempt {})\n", edited.did, entry.id, entry.attempt);
  for (const GiornataId rest : edited.rests)
    text += fmt::format("what was cut away is giornata {} (id {}), still to be painted\n", label_by_id(doc, rest),
                        rest.value);
  print(text);
}

// The entry to write: what it corrects, with what is given now in its place.
Result<DiaryEntry> entry_of(const DiaryArguments& a, const Document& doc) {
  DiaryEntry entry;
  if (a.corrects) {
    const auto& diary = doc.job().diary;
    if (*a.corrects > diary.size())
      return Problem{fmt::format("the diary has no entry {}", *a.corrects), "", "pontata diary PROJECT lists them."};
    entry = *diary[*a.corrects - 1];
    entry.corrects = *a.corrects;
  }
  entry.giornata = GiornataId{*a.id};
  if (a.date) entry.date = *a.date;
  if (a.hours) entry.hours = a.hours;
  if (a.laying) entry.lay_hours = a.laying;
  if (a.window) entry.window_h = a.window;
  if (a.temperature || a.humidity || a.air) {
    if (!entry.air && !(a.temperature && a.humidity))
      return Problem{"the air needs a temperature and a humidity", "", "Give --temperature and --humidity."};
    Air air = entry.air.value_or(Air{});
    air.temperature_c = a.temperature.value_or(air.temperature_c);
    air.humidity_pct = a.humidity.value_or(air.humidity_pct);
    air.movement_km_h = a.air.value_or(air.movement_km_h);
    entry.air = air;
  }
  if (a.mix) entry.mix = *a.mix;
  if (a.putty) entry.putty = *a.putty;
  if (a.light) entry.light = *a.light;
  if (a.photo) entry.photo = *a.photo;
  if (a.note) entry.remarks = *a.note;
  return entry;
}

int run_write(const DiaryArguments& a) {
  return change_project<DiaryEdited>(
      a,
      [&](const Document& doc, Progress* progress) -> Result<DiaryEdited> {
        const auto entry = entry_of(a, doc);
        if (!entry) return entry.problem();
        if (!a.cut) return write_diary(doc, *entry, {}, std::nullopt, progress);
        const Giornata* g = doc.giornata(GiornataId{*a.id});
        if (!g)
          return Problem{fmt::format("there is no giornata with the id {}", *a.id), "",
                         "measure --json lists the ids."};
        const auto points = read_chart_points(*a.cut, *doc.wall(g->wall)->wall);
        if (!points) return points.problem();
        return named(write_diary(doc, *entry, *points, a.painted, progress), *a.cut);
      },
      [&](const DiaryEdited& edited) { tell_written(a, edited); });
}

int run_redo(const DiaryArguments& a) {
  return change_project<Edited>(
      a,
      [&](const Document& doc, Progress*) {
        return fail_giornata(doc, GiornataId{*a.id}, *a.date, a.why.value_or(""));
      },
      [&](const Edited& edited) {
        print(a.json ? to_text({{"did", edited.did}, {"caution", cutting_out_caution()}})
                     : edited.did + "\n" + std::string(cutting_out_caution()) + "\n");
      });
}

int list(const DiaryArguments& a, const Document& doc) {
  const auto only = a.id ? std::optional(GiornataId{*a.id}) : std::nullopt;
  const Table table = diary_table(doc, only);
  const std::string text = table.rows.empty() ? "Nothing stands in the diary yet.\n" : table.text();
  return report_all(a, doc, {{"diary", diary_json(doc, only)}}, table, text);
}

int list_plan(const DiaryArguments& a, const Document& doc) {
  Flow flow;
  const auto rows = plan_and_facts(doc, flow);
  const Table table = plan_and_fact_table(doc, rows);
  return report_all(a, doc, {{"giornate", plan_and_fact_json(doc, rows)}}, table, table.text());
}

int tell_estimates(const DiaryArguments& a, const Document& doc) {
  const Estimates found = estimate(doc.job().diary, doc.settings.calendar.reference);
  print(a.json ? to_text(estimates_json(found)) : estimates_text(found, a.project));
  return kExitDone;
}

int write_out_record(const DiaryArguments& a, const Document& doc) {
  Flow flow;
  std::error_code fault;
  std::filesystem::create_directories(*a.record, fault);
  if (fault) return fail({"this folder cannot be made", *a.record, "Give another one."}, a.project);
  const auto files = record_files(doc, flow, *a.record);
  const std::string drawing = *a.record + "/giornate.pdf";
  for (const FileToWrite& file : files)
    if (const auto free = may_be_written(file.path, a.project, doc); !free) return fail(free.problem(), a.project);
  if (const auto free = may_be_written(drawing, a.project, doc); !free) return fail(free.problem(), a.project);
  const std::string name = std::filesystem::path(a.project).filename().string();
  if (const auto drawn = write_record(name, record_walls(doc), drawing); !drawn) return fail(drawn.problem(), drawing);
  if (const auto written = write_files_atomically(files); !written) return fail(written.problem(), a.project);
  Json json = {{"files", Json::array()}};
  std::string text;
  for (const FileToWrite& file : files) json["files"].push_back(file.path), text += file.path + "\n";
  json["files"].push_back(drawing);
  print(a.json ? to_text(json) : text + drawing + "\n");
  return kExitDone;
}

std::string wrong_together(const DiaryArguments& a) {
  if (!a.id) return "ID is required to write something down";
  if (a.csv || a.estimates || a.plan || a.record) return "a report goes without writing something down";
  if (a.redo && (a.tells_day() || a.corrects)) return "--redo goes with --date and --why alone";
  if (a.why && !a.redo) return "--why belongs to --redo";
  if (a.redo && !a.date) return "--date is required: the day it was found bad";
  if (!a.date && !a.corrects) return "--date is required";
  if (a.painted && !a.cut) return "--painted belongs to --cut";
  return "";
}

int run(const DiaryArguments& a) {
  if (a.writes()) {
    if (const auto wrong = wrong_together(a); !wrong.empty()) return wrong_usage("diary", wrong);
    return a.redo ? run_redo(a) : run_write(a);
  }
  const auto two =
      more_than_one({{"--estimates", a.estimates}, {"--plan", a.plan}, {"--record", a.record.has_value()}});
  if (!two.empty()) return wrong_usage("diary", two);
  if (a.csv && (a.estimates || a.record)) return wrong_usage("diary", "--csv goes with the list, or with --plan");
  if (a.record && a.record->empty()) return wrong_usage("diary", "--record needs a folder");
  return with_report("diary", a, [&](const Document& doc, Progress*) {
    if (a.estimates) return tell_estimates(a, doc);
    if (a.record) return write_out_record(a, doc);
    return a.plan ? list_plan(a, doc) : list(a, doc);
  });
}

}  // namespace

VerbTask diary_verb(Usage& usage) {
  const auto a = std::make_shared<DiaryArguments>();
  a->declare_json_and_csv(usage);
  usage.may_take_id(a->id, "ID", "a giornata's id; without it the diary is told");
  usage.date(a->date, "--date", "the day it was painted; with --redo the day it was found bad");
  usage.number(a->hours, "--hours", "hours of painting");
  usage.number(a->laying, "--laying", "hours of plastering");
  usage.number(a->window, "--window", "hours from the last coat until the plaster took no more colour");
  usage.text(a->mix, "--mix", "TEXT", "the mix of the intonaco");
  usage.text(a->putty, "--putty", "NAME", "the batch of putty");
  usage.number(a->temperature, "--temperature", "air at the wall in °C");
  usage.number(a->humidity, "--humidity", "its humidity in %");
  usage.number(a->air, "--air", "air moving past the wall in km/h");
  usage.text(a->light, "--light", "TEXT", "the light it was painted in");
  usage.text(a->photo, "--photo", "FILE", "a photograph of it");
  usage.text(a->cut, "--cut", "FILE|-",
             "the line really cut in the evening, from rim to rim, or all round what was painted and back to its first "
             "place: lines of `u v` or `X Y Z`; what was cut away becomes a later giornata");
  usage.place(a->painted, "--painted", "a place in the part that was painted; else the larger part was");
  usage.text(a->note, "--note", "TEXT", "remarks");
  usage.flag(a->redo, "--redo", "it was found bad: cut out along its seams and done again");
  usage.text(a->why, "--why", "TEXT", "with --redo: why");
  usage.count(a->corrects, "--corrects",
              "number of an entry that this one stands for; what is not given stays as it was");
  usage.flag(a->plan, "--plan", "plan and fact side by side");
  usage.flag(a->estimates, "--estimates", "rates and base window that the days teach");
  usage.text(a->record, "--record", "DIR", "write the whole record there: CSV, JSON and a drawing");
  return [a] { return run(*a); };
}

}  // namespace pontata
