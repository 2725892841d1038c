#include <fmt/format.h>

#include <algorithm>

#include "engine/base/units.h"
#include "engine/calendar/plan_steps.h"

namespace pontata {

namespace {

constexpr double kReachDown = 0.3;  // m below a deck, through the gap along the wall (common practice, no source)

void check_reach(const PlanCase& c, const PlanRow& row, PlanIssues& out) {
  const auto reach = of_deck(c.settings.reach_m, row.deck);
  if (!reach) return;
  const auto& m = row.input->measure;
  const double deck = c.rows.levels[row.deck];
  if (m.highest_m <= deck + *reach && m.lowest_m >= deck - kReachDown) return;
  out.push_back({"reach",
                 fmt::format("{} reaches from {} to {}, but from its deck at {} a painter reaches {} to {}: divide it "
                             "between the decks, or set another deck level.",
                             capital(c.words.giornata(row.id())), height(m.lowest_m), height(m.highest_m), height(deck),
                             height(deck - kReachDown), height(deck + *reach)),
                 {row.id()},
                 row.date,
                 false});
}

void check_load(const PlanCase& c, Date date, const std::vector<const PlanRow*>& rows, PlanIssues& out) {
  const auto carries = of_deck(c.settings.load_kg, rows.front()->deck);
  if (!carries || deck_load_kg(rows) <= *carries) return;
  std::vector<GiornataId> ids;
  for (const PlanRow* r : rows) ids.push_back(r->id());
  const auto people = static_cast<double>(rows.size() + 1);
  out.push_back(
      {"deck-load",
       fmt::format("On {} the deck at {} would carry {} kg: {} kg of wet mortar for {}, and {} people of {} "
                   "kg with tools; its tag allows {} kg. Bring the mortar up in parts, or divide the work.",
                   format_date(date), height(c.rows.levels[rows.front()->deck]), format_fixed(deck_load_kg(rows), 0),
                   format_fixed(deck_load_kg(rows) - kPersonKg * people, 0), c.words.giornate(ids),
                   format_fixed(people, 0), format_fixed(kPersonKg, 0), format_fixed(*carries, 0)),
       ids, date, false});
}

}  // namespace

void check_decks(const PlanCase& c, PlanIssues& out) {
  if (!c.settings.levels_m.empty())  // assumed decks are moved to suit
    for (const PlanRow& r : c.rows.open) check_reach(c, r, out);
  if (c.settings.load_kg.empty()) return;
  for (const auto& [date, rows] : c.by_day) {
    std::map<std::size_t, std::vector<const PlanRow*>> by_deck;
    for (const PlanRow* r : rows) by_deck[r->deck].push_back(r);
    for (const auto& [deck, on_deck] : by_deck) check_load(c, date, on_deck, out);
  }
}

}  // namespace pontata
