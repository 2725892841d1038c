#include <fmt/format.h>

#include <algorithm>

#include "engine/calendar/plan_steps.h"

namespace pontata {

namespace {

using Events = std::vector<PlanEvent>;

void add_scaffold(const PlanCase& c, const PontataDays& days, Events& out) {
  const int pontata = static_cast<int>(c.rows.top_deck - days.deck) + 1;
  const std::string deck = fmt::format("pontata {} (deck at {})", pontata, height(c.rows.levels[days.deck]));
  if (days.move_from)
    out.push_back({PlanEventKind::scaffold_move,
                   *days.move_from,
                   *days.move_to,
                   fmt::format("Scaffold to {}: use it only after handover.", deck),
                   pontata,
                   {},
                   {}});
  if (!days.strike_from) return;
  std::vector<GiornataId> behind;
  for (const PlanRow& r : c.rows.open)
    if (r.deck == days.deck && r.input->behind_scaffold) behind.push_back(r.id());
  out.push_back({PlanEventKind::strike,
                 *days.strike_from,
                 *days.strike_to,
                 fmt::format("Ties and standards of {} taken away{}.", deck,
                             behind.empty() ? "" : "; painted as they go: " + c.words.giornate(behind)),
                 pontata,
                 {},
                 {}});
}

void add_days_off(const PlanCase& c, Events& out) {
  for (const DaysOff& off : c.facts.days_off) {
    std::string says = off.why == DayOffWhy::dust       ? "Dust of other trades: nothing wet on the wall"
                       : off.why == DayOffWhy::scaffold ? "No painting: scaffold"
                       : off.why == DayOffWhy::rest     ? "No work: rest"
                                                        : "No work";
    if (!off.remark.empty()) says += " (" + off.remark + ")";
    out.push_back({PlanEventKind::day_off, off.from, off.to, says + ".", 0, {}, {}});
  }
}

void add_ground(const PlanCase& c, Events& out) {
  for (const GroundWork& work : c.facts.ground) {
    const std::string which = c.words.ground(work.wall, work.pontata);
    const Date cured = add_days(work.laid, c.settings.curing_days);
    out.push_back({PlanEventKind::arriccio,
                   work.laid,
                   work.laid,
                   fmt::format("Arriccio {} laid; cured on {}.", which, format_date(cured)),
                   work.pontata,
                   work.wall,
                   {}});
    const Date when = work.signed_on.value_or(cured);
    const std::string by = work.signed_by.empty() ? "" : " by " + work.signed_by;
    const std::string says = !work.signed_on ? fmt::format("Sign for the arriccio {}: sound, no salts, no damp.", which)
                             : ready_to_paint(work)
                                 ? fmt::format("Arriccio {} signed for{}: sound, no salts, no damp.", which, by)
                                 : fmt::format("Arriccio {} looked at{} and not found good.", which, by);
    out.push_back({PlanEventKind::sign_off, when, when, says, work.pontata, work.wall, {}});
  }
}

std::optional<Date> painted_on(const PlanRows& rows, GiornataId id) {
  if (const auto it = rows.places.find(id); it != rows.places.end()) return rows.open[it->second].date;
  const auto done = std::ranges::find(rows.done, id, &PlanRow::id);
  return done == rows.done.end() ? std::nullopt : done->input->painted;
}

void add_secco(const PlanCase& c, Events& out, PlanIssues& issues) {
  for (const auto& work : c.facts.secco) {
    const auto painted = painted_on(c.rows, work.giornata);
    if (!painted) {
      if (work.date)
        out.push_back({PlanEventKind::secco,
                       *work.date,
                       *work.date,
                       fmt::format("Dry work on {}: {}.", c.words.giornata(work.giornata), work.says),
                       0,
                       {},
                       work.giornata});
      continue;
    }
    const Date earliest = add_days(*painted, c.settings.secco_days);
    const Date when = work.date ? *work.date : c.days.next_painted(earliest);
    out.push_back({PlanEventKind::secco,
                   when,
                   when,
                   fmt::format("Dry work on {}: {}; not before {}.", c.words.giornata(work.giornata), work.says,
                               format_date(earliest)),
                   0,
                   {},
                   work.giornata});
    if (when < earliest)
      issues.push_back({"secco-early",
                        fmt::format("Dry work on {} ({}) is set for {}, but the plaster has set only on {}, {} days "
                                    "after it is painted.",
                                    c.words.giornata(work.giornata), work.says, format_date(when),
                                    format_date(earliest), c.settings.secco_days),
                        {work.giornata},
                        when,
                        false});
  }
}

}  // namespace

std::vector<PlanEvent> plan_events(const PlanCase& c, PlanIssues& issues) {
  Events events;
  for (const PontataDays& days : c.pontate) add_scaffold(c, days, events);
  add_days_off(c, events);
  add_ground(c, events);
  add_secco(c, events, issues);
  std::ranges::stable_sort(events, {}, &PlanEvent::from);
  return events;
}

}  // namespace pontata
