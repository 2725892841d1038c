#include "engine/palette/secco.h"

#include <fmt/format.h>

#include "editor/verbs/job_report.h"

namespace pontata {

namespace {

struct SeccoArguments : ReportArguments {
  std::optional<std::uint32_t> id, change, remove;
  std::optional<std::string> what, binder;
  std::optional<double> area, hours;
  std::optional<Date> date;
  bool told() const { return what || binder || area || hours || date; }
};

// As early as the plaster allows: after it was painted, or after the day planned for it.
std::optional<Date> earliest(const Document& doc, const Plan& plan, GiornataId id) {
  const int days = doc.settings.calendar.secco_days;
  const auto entries = standing_entries(doc.job().diary, id);
  if (!entries.empty() && !entries.back()->failed) return earliest_secco(entries.back()->date, days);
  for (const PlannedDay& day : plan.days)
    if (day.id == id && day.dated) return earliest_secco(day.date, days);
  return std::nullopt;
}

int list(const SeccoArguments& a, const Document& doc) {
  Flow flow;
  const auto plan = flow.plan(doc);
  Json json = {{"secco", Json::array()}};
  Table table{{{"finish", "finish"},
               {"id", "id"},
               {"giornata", "giornata", false},
               {"what", "what", false},
               {"binder", "binder", false},
               {"area_m2", "area m²"},
               {"hours", "hours"},
               {"earliest", "not before", false},
               {"date", "wanted", false}},
              {}};
  std::string early;
  for (const SeccoWork& work : doc.job().secco) {
    const auto first = earliest(doc, *plan, work.giornata);
    if (work.date && first && *work.date < *first)
      early += fmt::format("note: finish {} is wanted on {}, before the plaster has set ({})\n", work.id,
                           format_date(*work.date), format_date(*first));
    json["secco"].push_back({{"finish", work.id},
                             {"id", work.giornata.value},
                             {"label", label_by_id(doc, work.giornata)},
                             {"what", work.what},
                             {"binder", work.binder},
                             {"area_m2", work.area_m2},
                             {"hours", work.hours},
                             {"earliest", date_json(first)},
                             {"date", date_json(work.date)}});
    table.rows.push_back({cell(static_cast<int>(work.id)), cell(static_cast<int>(work.giornata.value)),
                          cell(label_by_id(doc, work.giornata)), cell(work.what), cell(work.binder),
                          cell(work.area_m2, 2), cell(work.hours, 1), date_cell(first), date_cell(work.date)});
  }
  return report_all(a, doc, json, table,
                    table.rows.empty() ? "Nothing is to be finished dry.\n" : table.text() + early);
}

Result<Edited> changed(const SeccoArguments& a, const Document& doc) {
  SeccoWork work;
  if (a.change) {
    bool there = false;
    for (const SeccoWork& s : doc.job().secco)
      if (s.id == *a.change) work = s, there = true;
    if (!there)
      return Problem{fmt::format("there is no finish {}", *a.change), "", "pontata secco PROJECT lists them."};
  }
  if (a.id) work.giornata = GiornataId{*a.id};
  if (a.what) work.what = *a.what;
  if (a.binder) work.binder = *a.binder;
  if (a.area) work.area_m2 = *a.area;
  if (a.hours) work.hours = *a.hours;
  if (a.date) work.date = *a.date;
  return set_secco(doc, work);
}

int run(const SeccoArguments& a) {
  if (a.remove && (a.told() || a.id || a.change)) return wrong_usage("secco", "--remove goes alone");
  if (a.csv && (a.remove || a.told()))
    return wrong_usage("secco", "--csv lists the finishes; it goes without a change");
  if (a.remove) return change_job(a, [&](const Document& doc) { return remove_secco(doc, *a.remove); });
  if (!a.told() && !a.change && !a.id)
    return with_report("secco", a, [&](const Document& doc, Progress*) { return list(a, doc); });
  if (!a.change && !a.id)
    return wrong_usage("secco", "ID is required for a new finish, --change N for one that is there");
  if (!a.change && !(a.what && a.binder && a.area && a.hours))
    return wrong_usage("secco", "--what, --binder, --area and --hours are required for a new finish");
  if (!a.told() && !a.id) return wrong_usage("secco", "--change needs what is to change");
  return change_job(a, [&](const Document& doc) { return changed(a, doc); });
}

}  // namespace

VerbTask secco_verb(Usage& usage) {
  const auto a = std::make_shared<SeccoArguments>();
  a->declare_json_and_csv(usage);
  usage.may_take_id(a->id, "ID", "the giornata it is on; without anything the finishes are told");
  usage.text(a->what, "--what", "TEXT", "what is finished dry");
  usage.text(a->binder, "--binder", "TEXT", "casein, egg, lime water, ...");
  usage.number(a->area, "--area", "square metres");
  usage.number(a->hours, "--hours", "hours of work");
  usage.date(a->date, "--date", "the day wanted; else as early as may be");
  usage.count(a->change, "--change", "number of a finish that is there, to be changed");
  usage.count(a->remove, "--remove", "number of a finish to take out");
  return [a] { return run(*a); };
}

}  // namespace pontata
