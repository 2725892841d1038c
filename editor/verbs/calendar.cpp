#include "editor/verbs/calendar_report.h"

namespace pontata {

namespace {

struct CalendarArguments : ReportArguments {
  std::optional<std::string> ics;
};

int calendar(const CalendarArguments& a, const Document& doc) {
  Flow flow;
  const auto plan = flow.plan(doc);
  const auto rows = flow.giornate(doc);
  Table giornate = calendar_table(doc, *plan, *rows);
  const Table all = giornate;
  giornate.rows.resize(rows->size());  // events are told in words
  std::vector<FileToWrite> also;
  if (a.ics) also.push_back({*a.ics, icalendar_text(calendar_events(a.project, doc, *plan, *rows))});
  return report_all(a, doc, calendar_json(doc, *plan, *rows), all, giornate.text() + calendar_words(*plan),
                    std::move(also));
}

}  // namespace

VerbTask calendar_verb(Usage& usage) {
  const auto a = std::make_shared<CalendarArguments>();
  a->declare_json_and_csv(usage);
  usage.text(a->ics, "--ics", "FILE", "also write the days for calendar programs");
  return [a] { return with_report("calendar", *a, [&](const Document& doc, Progress*) { return calendar(*a, doc); }); };
}

}  // namespace pontata
