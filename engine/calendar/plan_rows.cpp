#include "engine/calendar/plan_rows.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>

namespace pontata {

namespace {

constexpr double kDeckStep = 2.0;   // m between assumed decks
constexpr double kTie = 0.10;       // m, a hand's breadth
constexpr double kLeastRun = 0.05;  // m across the fall: less is a dab with a sponge

using Rows = std::vector<PlanRow>;

// Sorts [first, last) of one stage: rows of equal height from the top, each from the left or from the right.
void sort_stage(Rows::iterator first, Rows::iterator last, bool from_left) {
  const auto higher = [](const PlanRow& a, const PlanRow& b) {
    const auto& p = a.input->measure;
    const auto& q = b.input->measure;
    return std::tuple(-p.highest_m, -p.inside_m, p.inside.u, p.id) <
           std::tuple(-q.highest_m, -q.inside_m, q.inside.u, q.id);
  };
  const auto in_row = [&](const PlanRow& a, const PlanRow& b) {
    const double u = a.input->measure.inside.u, v = b.input->measure.inside.u;
    return u != v ? (u < v) == from_left : a.id() < b.id();
  };
  std::sort(first, last, higher);
  while (first != last) {
    const auto& top = first->input->measure;
    const auto end = std::find_if(first, last, [&](const PlanRow& r) {
      return top.highest_m - r.input->measure.highest_m > kTie ||
             std::abs(top.inside_m - r.input->measure.inside_m) > kTie;
    });
    std::sort(first, end, in_row);
    first = end;
  }
}

void sort_rows(Rows& rows, bool from_left) {
  std::sort(rows.begin(), rows.end(), [](const PlanRow& a, const PlanRow& b) {
    return std::tuple(a.stage, a.id()) < std::tuple(b.stage, b.id());
  });
  for (auto first = rows.begin(); first != rows.end();) {
    const auto end = std::find_if(first, rows.end(), [&](const PlanRow& r) { return r.stage != first->stage; });
    sort_stage(first, end, from_left);
    first = end;
  }
}

// Water from these rows, and what the painter asks for; where a stage says otherwise, that as well.
std::vector<Precedence> precedence_of(const Rows& rows, const PlanFacts& facts) {
  std::unordered_map<GiornataId, std::size_t> stage;
  for (const PlanRow& r : rows) stage[r.id()] = r.stage;
  std::vector<Precedence> all;
  for (const PairRule& pair : facts.pairs)
    if (pair.kind == PairKind::before) all.push_back({pair.first, pair.second, PrecedenceWhy::asked, 0});
  for (const PlanRow& r : rows)
    for (const auto& run : r.input->measure.runs_onto) {
      const double steep = run.width_m - run.crown_m;
      if (steep > kLeastRun)
        all.push_back({r.id(), run.id, PrecedenceWhy::drips, steep});
      else if (run.width_m > kLeastRun)
        all.push_back({r.id(), run.id, PrecedenceWhy::crown, run.width_m});
    }
  all.insert(all.end(), facts.drips.begin(), facts.drips.end());
  for (std::size_t i = 0, count = all.size(); i < count; ++i) {
    const auto a = stage.find(all[i].before), b = stage.find(all[i].after);
    if (a != stage.end() && b != stage.end() && a->second > b->second)
      all.push_back({all[i].after, all[i].before, PrecedenceWhy::deck, 0});
  }
  return all;
}

// Puts rows into the order that keeps to these.
Ordered keep_to(Rows& rows, std::span<const Precedence> precedence) {
  std::vector<GiornataId> list;
  std::unordered_map<GiornataId, std::size_t> place;
  for (const PlanRow& r : rows) {
    place[r.id()] = list.size();
    list.push_back(r.id());
  }
  Ordered kept = order_by(list, precedence);
  Rows ordered;
  ordered.reserve(rows.size());
  for (const GiornataId id : kept.order) ordered.push_back(std::move(rows[place.at(id)]));
  rows = std::move(ordered);
  return kept;
}

using Places = std::unordered_map<GiornataId, std::size_t>;
using PlacePair = std::pair<std::size_t, std::size_t>;  // the lesser first

std::set<PlacePair> pairs_of(const Places& places, std::span<const PairRule> rules, PairKind kind) {
  std::set<PlacePair> pairs;
  for (const PairRule& rule : rules) {
    if (rule.kind != kind) continue;
    const auto a = places.find(rule.first), b = places.find(rule.second);
    if (a != places.end() && b != places.end()) pairs.insert(std::minmax(a->second, b->second));
  }
  return pairs;
}

void tie(std::vector<PlanRow>& rows, std::size_t a, std::size_t b, std::vector<std::size_t> PlanRow::*list) {
  (rows[a].*list).push_back(b);
  (rows[b].*list).push_back(a);
}

void add_beside(PlanRows& plan, const std::set<PlacePair>& together) {
  for (std::size_t i = 0; i < plan.open.size(); ++i)
    for (const GiornataId other : plan.open[i].input->measure.neighbours)
      if (const auto it = plan.places.find(other);
          it != plan.places.end() && it->second != i && !together.contains(std::minmax(i, it->second)))
        tie(plan.open, i, it->second, &PlanRow::beside);
  for (PlanRow& r : plan.open) {
    std::sort(r.beside.begin(), r.beside.end());
    r.beside.erase(std::unique(r.beside.begin(), r.beside.end()), r.beside.end());
  }
}

// Drips and what is asked hold each day; a crown is only a wish, and stages come one after the other anyhow.
void add_waits(PlanRows& plan, std::span<const Precedence> precedence, const std::set<PlacePair>& together) {
  std::set<std::tuple<GiornataId, GiornataId, PrecedenceWhy>> broken;
  for (const Precedence& p : plan.kept.broken) broken.insert({p.before, p.after, p.why});
  for (const Precedence& p : precedence) {
    if (p.why == PrecedenceWhy::crown || p.why == PrecedenceWhy::deck) continue;
    const auto a = plan.places.find(p.before), b = plan.places.find(p.after);
    if (a == plan.places.end() || b == plan.places.end() ||
        (!broken.empty() && broken.contains({p.before, p.after, p.why})))
      continue;
    const bool one_day = p.why == PrecedenceWhy::drips && together.contains(std::minmax(a->second, b->second));
    plan.open[b->second].waits.push_back({a->second, p.why, one_day});
  }
}

void add_pairs(PlanRows& plan, std::span<const Precedence> precedence, const PlanFacts& facts) {
  for (std::size_t i = 0; i < plan.open.size(); ++i) plan.places[plan.open[i].id()] = i;
  const auto together = pairs_of(plan.places, facts.pairs, PairKind::together);
  add_beside(plan, together);
  add_waits(plan, precedence, together);
  for (const auto& [a, b] : pairs_of(plan.places, facts.pairs, PairKind::apart)) tie(plan.open, a, b, &PlanRow::apart);
  for (PlanRow& r : plan.open) std::sort(r.apart.begin(), r.apart.end());
}

std::vector<double> levels_for(std::span<const PlanInput> giornate, const CalendarSettings& settings,
                               const PlanFacts& facts) {
  double foot = giornate.front().measure.lowest_m;
  double top = giornate.front().measure.highest_m;
  for (const PlanInput& g : giornate) {
    foot = std::min(foot, g.measure.lowest_m);
    top = std::max(top, g.measure.highest_m);
  }
  return deck_levels(settings, facts.foot_m.value_or(foot), top);
}

}  // namespace

std::vector<double> deck_levels(const CalendarSettings& settings, double foot_m, double top_m) {
  std::vector<double> levels = settings.levels_m;
  std::sort(levels.begin(), levels.end());
  if (!levels.empty()) return levels;
  levels.push_back(foot_m);
  for (int i = 1; foot_m + i * kDeckStep < top_m; ++i) levels.push_back(foot_m + i * kDeckStep);
  return levels;
}

std::size_t deck_of(std::span<const double> levels, double height_m) {
  const auto above = std::upper_bound(levels.begin(), levels.end(), height_m);
  return above == levels.begin() ? 0 : static_cast<std::size_t>(above - levels.begin()) - 1;
}

std::optional<double> of_deck(const std::vector<double>& numbers, std::size_t deck) {
  if (numbers.empty()) return std::nullopt;
  return numbers[std::min(deck, numbers.size() - 1)];
}

const GroundWork* ground_of(std::span<const GroundWork> ground, WallId wall, int pontata) {
  const GroundWork* found = nullptr;
  for (const GroundWork& work : ground)
    if (work.wall == wall && (work.pontata == pontata || (work.pontata == 0 && !found))) found = &work;
  return found;
}

Date ready_day(const GroundWork& work, const CalendarSettings& settings) {
  const Date cured = add_days(work.laid, settings.curing_days);
  return ready_to_paint(work) ? std::max(cured, *work.signed_on) : cured;
}

PlanRows plan_rows(std::span<const PlanInput> giornate, const CalendarSettings& settings, const PlanFacts& facts) {
  PlanRows plan;
  plan.levels = levels_for(giornate, settings, facts);
  for (const PlanInput& input : giornate) {
    PlanRow row;
    row.input = &input;
    row.deck = deck_of(plan.levels, input.measure.inside_m);
    plan.top_deck = std::max(plan.top_deck, row.deck);
    (input.state == GiornataState::done ? plan.done : plan.open).push_back(std::move(row));
  }
  const bool from_left = settings.left_handed == settings.against_hand;
  for (Rows* rows : {&plan.done, &plan.open}) {
    for (PlanRow& r : *rows) r.stage = 2 * (plan.top_deck - r.deck) + (rows == &plan.open && r.input->behind_scaffold);
    sort_rows(*rows, from_left);
  }
  keep_to(plan.done, precedence_of(plan.done, {}));
  std::ranges::stable_sort(plan.done, {}, [](const PlanRow& r) { return r.input->painted.value_or(Date{0, 1, 1}); });
  const auto precedence = precedence_of(plan.open, facts);
  plan.kept = keep_to(plan.open, precedence);
  add_pairs(plan, precedence, facts);
  for (PlanRow& r : plan.open)
    if (const GroundWork* work = ground_of(facts.ground, r.input->wall, plan.pontata(r)))
      r.ready = ready_day(*work, settings);
  return plan;
}

}  // namespace pontata
