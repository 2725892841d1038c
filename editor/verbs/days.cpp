#include <fmt/format.h>

#include "editor/verbs/job_report.h"

namespace pontata {

namespace {

struct DaysArguments : ReportArguments {
  std::optional<std::pair<Date, Date>> off;
  std::optional<std::string> why, note, to;
  std::optional<std::uint32_t> move, behind;
  bool remove = false;
};

DayOffWhy why_of(const DaysArguments& a) {
  for (const DayOffWhy why : {DayOffWhy::rest, DayOffWhy::dust, DayOffWhy::scaffold, DayOffWhy::other})
    if (a.why && *a.why == day_off_name(why)) return why;
  return DayOffWhy::rest;
}

Json off_json(const DaysOff& off) {
  return {{"from", format_date(off.from)},
          {"to", format_date(off.to)},
          {"why", day_off_name(off.why)},
          {"note", off.remark}};
}

int list(const DaysArguments& a, const Document& doc) {
  const Job& job = doc.job();
  Json json = {{"off", Json::array()}, {"moved", Json::array()}, {"behind", Json::array()}};
  Table table{{{"from", "from", false}, {"to", "to", false}, {"what", "what", false}, {"note", "note", false}}, {}};
  for (const DaysOff& off : job.days_off) {
    json["off"].push_back(off_json(off));
    table.rows.push_back({cell(format_date(off.from)), cell(format_date(off.to)),
                          cell("no work: " + std::string(day_off_name(off.why))), cell(off.remark)});
  }
  for (const GiornataJob& told : job.giornate) {
    const std::string label = label_by_id(doc, told.id);
    if (told.day) {
      json["moved"].push_back({{"id", told.id.value}, {"label", label}, {"date", format_date(*told.day)}});
      table.rows.push_back(
          {date_cell(told.day), date_cell(told.day), cell("giornata " + label + " moved here"), cell("")});
    }
    if (told.behind_scaffold) {
      json["behind"].push_back({{"id", told.id.value}, {"label", label}});
      table.rows.push_back(
          {Cell{"", "-"}, Cell{"", "-"}, cell("giornata " + label + " kept for the strike"), cell("")});
    }
  }
  return report_all(a, doc, json, table, table.rows.empty() ? "Nothing is set by hand.\n" : table.text());
}

Result<Edited> moved(const DaysArguments& a, const Document& doc) {
  if (*a.to == "none") return move_to_day(doc, GiornataId{*a.move}, std::nullopt);
  const auto day = parse_date(*a.to);
  if (!day) return day.problem();
  return move_to_day(doc, GiornataId{*a.move}, *day);
}

int run(const DaysArguments& a) {
  const auto two =
      more_than_one({{"--off", a.off.has_value()}, {"--move", a.move.has_value()}, {"--behind", a.behind.has_value()}});
  if (!two.empty()) return wrong_usage("days", two);
  if ((a.why || a.note) && !a.off) return wrong_usage("days", "--why and --note belong to --off");
  if (a.move.has_value() != a.to.has_value()) return wrong_usage("days", "--move and --to go together");
  if (a.remove && !a.off && !a.behind)
    return wrong_usage("days", "--remove needs --off or --behind; --move ID --to none");
  if (a.csv && (a.off || a.move || a.behind))
    return wrong_usage("days", "--csv lists the days; it goes without a change");
  if (a.off && a.remove) return change_job(a, [&](const Document& doc) { return remove_days_off(doc, a.off->first); });
  if (a.off)
    return change_job(a, [&](const Document& doc) {
      return add_days_off(doc, {a.off->first, a.off->second, why_of(a), a.note.value_or("")});
    });
  if (a.move) {
    if (*a.to != "none" && !parse_date(*a.to))
      return wrong_usage("days", "--to: " + parse_date(*a.to).problem().message());
    return change_job(a, [&](const Document& doc) { return moved(a, doc); });
  }
  if (a.behind)
    return change_job(a,
                      [&](const Document& doc) { return set_behind_scaffold(doc, GiornataId{*a.behind}, !a.remove); });
  return with_report("days", a, [&](const Document& doc, Progress*) { return list(a, doc); });
}

}  // namespace

VerbTask days_verb(Usage& usage) {
  const auto a = std::make_shared<DaysArguments>();
  a->declare_json_and_csv(usage);
  usage.dates(a->off, "--off", "no work on these days");
  usage.choice(a->why, "--why", {"rest", "dust", "scaffold", "other"},
               "what they are off for; dust: other trades raise it, nothing wet may be on the wall");
  usage.text(a->note, "--note", "TEXT", "a remark on them");
  usage.may_take_id(a->move, "--move", "giornata to move by hand to the day --to");
  usage.text(a->to, "--to", "DATE|none", "that day; none leaves it to the plan again");
  usage.may_take_id(a->behind, "--behind", "giornata behind ties and standards: kept for the strike");
  usage.flag(a->remove, "--remove", "with --off or --behind: no longer so");
  return [a] { return run(*a); };
}

}  // namespace pontata
