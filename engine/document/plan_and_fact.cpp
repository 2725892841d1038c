#include "engine/document/plan_and_fact.h"

#include <algorithm>
#include <map>

namespace pontata {

namespace {

using OfGiornata = std::map<GiornataId, std::vector<DiaryRef>>;

OfGiornata by_giornata(const Document& doc) {
  OfGiornata of;
  for (const DiaryRef& entry : standing_entries(doc.job().diary)) of[entry->giornata].push_back(entry);
  return of;
}

void add_hours(std::optional<double>& sum, const std::optional<double>& hours) {
  if (hours) sum = sum.value_or(0) + *hours;
}

// Litres for an m2 by the need of the giornata as it is now.
std::optional<double> litres_an_m2(const GiornataPlan* row, double area_m2) {
  if (!row || !row->need || area_m2 <= 0) return std::nullopt;
  return row->need->mortar_L / area_m2;
}

AttemptFact& of_attempt(std::vector<AttemptFact>& facts, const DiaryEntry& entry) {
  for (AttemptFact& fact : facts)
    if (fact.attempt == entry.attempt) return fact;
  facts.push_back({});
  AttemptFact& made = facts.back();
  made.attempt = entry.attempt;
  made.from = made.to = entry.date;
  made.planned_on = entry.planned_on;
  made.planned_hours = entry.planned_hours;
  return made;
}

std::vector<AttemptFact> facts_of(const WallItem& item, const std::vector<DiaryRef>& entries,
                                  std::optional<double> litres) {
  std::vector<AttemptFact> facts;
  for (const DiaryRef& entry : entries) {
    AttemptFact& fact = of_attempt(facts, *entry);
    fact.to = std::max(fact.to, entry->date);
    add_hours(fact.hours, entry->hours);
    add_hours(fact.lay_hours, entry->lay_hours);
    fact.area_m2 = std::max(fact.area_m2, entry->area_m2);
    const bool cut = !entry->cut.empty() && !entry->planned.empty();
    fact.laid_m2 = std::max(fact.laid_m2, cut ? area_by_clipping(*item.wall, entry->planned) : entry->area_m2);
    fact.failed = fact.failed || entry->failed;
    fact.entries.push_back(entry->id);
    if (litres) fact.litres = *litres * fact.laid_m2;
  }
  std::ranges::sort(facts, {}, &AttemptFact::attempt);
  return facts;
}

const GiornataMeasure* measured(const WallFigures& figures, GiornataId id) {
  const auto there = std::ranges::find(figures.measure.giornate, id, &GiornataMeasure::id);
  return there == figures.measure.giornate.end() ? nullptr : &*there;
}

// What the plan has of it now, or had of what was painted.
void set_plan(PlanAndFact& row, bool painted, const GiornataPlan* now, std::optional<double> litres) {
  if (!painted && now && now->day.dated) {
    row.date = now->day.date;
    row.hours = now->day.hours;
    if (now->need) row.litres = now->need->mortar_L;
    return;
  }
  if (row.facts.empty()) {
    if (now) row.hours = now->day.hours;
    return;
  }
  const AttemptFact& last = row.facts.back();
  row.date = last.planned_on;
  row.hours = last.planned_hours;
  row.area_m2 = last.laid_m2;
  if (litres) row.litres = *litres * last.laid_m2;
}

}  // namespace

std::vector<PlanAndFact> plan_and_facts(const Document& doc, Flow& flow) {
  const auto plan = flow.giornate(doc);
  std::map<GiornataId, const GiornataPlan*> rows;
  for (const GiornataPlan& row : *plan) rows[row.id] = &row;
  const OfGiornata entries = by_giornata(doc);
  std::vector<PlanAndFact> found;
  for (const auto& item : doc.walls) {
    const auto figures = flow.figures(doc, item->id);
    const auto first = static_cast<std::ptrdiff_t>(found.size());
    for (const Giornata& g : doc.giornate) {
      const GiornataMeasure* measure = g.alive && g.wall == item->id ? measured(*figures, g.id) : nullptr;
      if (!measure) continue;
      const auto at = rows.find(g.id);
      const GiornataPlan* now = at == rows.end() ? nullptr : at->second;
      const auto litres = litres_an_m2(now, measure->area_m2);
      PlanAndFact row;
      row.id = g.id, row.wall = g.wall, row.area_m2 = measure->area_m2;
      if (const auto told = entries.find(g.id); told != entries.end())
        row.facts = facts_of(*item, told->second, litres);
      set_plan(row, g.state == GiornataState::done, now, litres);
      found.push_back(std::move(row));
    }
    std::sort(found.begin() + first, found.end(), [&](const PlanAndFact& a, const PlanAndFact& b) {
      return label_less(label_of(doc.giornate[a.id.value - 1]), label_of(doc.giornate[b.id.value - 1]));
    });
  }
  return found;
}

std::string_view cutting_out_caution() {
  return "Cutting plaster out raises lime and silica dust: damp it, goggles, gloves, covered arms and a mask for fine "
         "dust; cut along the giornata's own seams, down to the arriccio. Where old plaster or paint lies underneath, "
         "stop until a conservator has tested it; it may hold lead. Local rules come first.";
}

}  // namespace pontata
