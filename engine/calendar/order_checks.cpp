#include <fmt/format.h>

#include <algorithm>

#include "engine/base/units.h"
#include "engine/calendar/plan_steps.h"

namespace pontata {

namespace {

std::string circle_words(const PlanCase& c, const std::vector<GiornataId>& circle) {
  std::vector<std::string> parts;
  for (std::size_t k = 0; k < circle.size(); ++k)
    parts.push_back(
        fmt::format("{} before {}", c.words.label(circle[k]), c.words.label(circle[(k + 1) % circle.size()])));
  return fmt::format(
      "No order keeps to these pairs of giornate, which go round in a circle: {}. Take one of them away.",
      fmt::join(parts, ", "));
}

// Asked against the scaffold: it stands where it stands.
void check_asked_against_deck(const PlanCase& c, const Precedence& p, PlanIssues& out) {
  const PlanRow& first = c.rows.open[c.rows.places.at(p.before)];
  const PlanRow& second = c.rows.open[c.rows.places.at(p.after)];
  if (first.stage <= second.stage) return;
  const std::string why = first.deck == second.deck
                              ? fmt::format("is kept for the strike of pontata {}", c.rows.pontata(first))
                              : fmt::format("is worked from a lower deck (pontata {}, after pontata {})",
                                            c.rows.pontata(first), c.rows.pontata(second));
  out.push_back({"forced-pair",
                 fmt::format("{} is asked before {}, but {}: the scaffold goes before the pair. Move a deck, or take "
                             "the pair away.",
                             capital(c.words.giornata(p.before)), c.words.giornata(p.after), why),
                 {p.before, p.after},
                 {},
                 false});
}

void check_drips(const PlanCase& c, const Precedence& p, PlanIssues& out) {
  const bool crown = p.why == PrecedenceWhy::crown;
  const std::string water = crown ? "drops may reach" : "water runs onto";
  out.push_back({"drips",
                 fmt::format("From {} {} {} over {} m of its edge, but {} comes first: hang a cover over it before the "
                             "wall above is wetted.",
                             c.words.giornata(p.before), water, c.words.giornata(p.after), format_fixed(p.weight, 2),
                             c.words.giornata(p.after)),
                 {p.before, p.after},
                 {},
                 crown});
}

// Pairs with what is painted already.
void check_done(const PlanCase& c, PlanIssues& out) {
  std::map<GiornataId, const PlanRow*> done;
  for (const PlanRow& r : c.rows.done) done[r.id()] = &r;
  for (const PairRule& pair : c.facts.pairs) {
    const auto second = done.find(pair.second);
    if (pair.kind != PairKind::before || second == done.end()) continue;
    const auto first = done.find(pair.first);
    if (first == done.end() ? !c.rows.places.contains(pair.first)
                            : !(first->second->input->painted && second->second->input->painted &&
                                *first->second->input->painted >= *second->second->input->painted))
      continue;
    out.push_back({"forced-pair",
                   fmt::format("{} was asked before {}, which is painted already.",
                               capital(c.words.giornata(pair.first)), c.words.giornata(pair.second)),
                   {pair.first, pair.second},
                   {},
                   false});
  }
}

}  // namespace

void check_order(const PlanCase& c, PlanIssues& out) {
  for (const auto& circle : c.rows.kept.circles) {
    const auto stage = [&](std::size_t k) { return c.rows.open[c.rows.places.at(circle[k])].stage; };
    if (circle.size() == 2 && stage(0) != stage(1)) continue;  // told as a pair below
    out.push_back({"circle", circle_words(c, circle), circle, {}, false});
  }
  for (const Precedence& p : c.rows.kept.broken) {
    if (p.why == PrecedenceWhy::asked) check_asked_against_deck(c, p, out);
    if (p.why == PrecedenceWhy::drips || p.why == PrecedenceWhy::crown) check_drips(c, p, out);
  }
  check_done(c, out);
}

}  // namespace pontata
