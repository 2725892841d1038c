#include "engine/proposal/gather.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <random>

#include "engine/base/parallel.h"
#include "engine/proposal/coarsen.h"
#include "engine/proposal/grouping.h"
#include "engine/proposal/improver.h"
#include "engine/proposal/tangles.h"

namespace pontata {

namespace {

constexpr int kMostParts = 64;          // times that a group over its hours is parted
constexpr std::size_t kCoarsest = 200;  // atoms that are not joined further
constexpr double kLeastGain = 0.9;      // of the atoms left by joining: more, and it is not worth it
constexpr double kStartHeat = 2, kAgainHeat = 1.5, kFineHeat = 0.3;  // mean borders
constexpr double kTangle = 0.3;                                      // of the cost, for each group on a circle
constexpr double kManyDays = 0.3;                                    // of the cost, for each day too many
constexpr std::size_t kLooksAgain = 8;                               // at a gathering to begin with
constexpr std::size_t kKept = 4;                                     // of the best, from generation to generation
constexpr std::array<std::pair<std::size_t, std::size_t>, 4> kPairs{{{0, 1}, {0, 2}, {0, 0}, {1, 2}}};
constexpr int kCoarseRounds = 10;  // times the rounds, on the few atoms that were joined

// A way to look. Full groups are fewer, and harder to even out.
struct Way {
  double room;      // of the hours that groups are filled to at the beginning, on the average
  double of_hours;  // atoms that were joined hold at most this part of the hours
};
constexpr std::array<Way, 4> kWays{{{0.94, 8}, {0.985, 8}, {0.94, 4}, {0.985, 4}}};

std::vector<std::uint32_t> identity(std::size_t count) {
  std::vector<std::uint32_t> all(count);
  std::iota(all.begin(), all.end(), 0u);
  return all;
}

std::optional<std::uint32_t> overfull(const Grouping& g, double hours) {
  for (std::uint32_t k = 0; k < g.groups(); ++k)
    if (g.count(k) > 1 && g.load(k) > hours) return k;
  return std::nullopt;
}

// Two groups side by side that fit into one day become one; those that share most first.
void join_small(Grouping& g, double hours) {
  for (;;) {
    std::map<std::pair<std::uint32_t, std::uint32_t>, double> shared;
    for (const AtomBorder& b : g.graph().borders) {
      const auto pair = std::minmax(g.group(b.a), g.group(b.b));
      if (pair.first != pair.second) shared[pair] += b.cost;
    }
    std::pair<std::uint32_t, std::uint32_t> best;
    double most = 0;
    for (const auto& [pair, cost] : shared)
      if (g.deck(pair.first) == g.deck(pair.second) && g.load(pair.first) + g.load(pair.second) <= hours && cost > most)
        most = cost, best = pair;
    if (most <= 0) return;
    for (const std::uint32_t a : g.members(best.second)) g.put(a, best.first);
  }
}

Gathering result(const Grouping& g) {
  Gathering out;
  std::vector<std::uint32_t> number(g.groups(), kNoAtom);
  for (std::uint32_t k = 0; k < g.groups(); ++k)
    if (g.count(k) > 0) {
      number[k] = static_cast<std::uint32_t>(out.deck.size());
      out.deck.push_back(g.deck(k));
    }
  for (std::uint32_t a = 0; a < g.atoms(); ++a) out.group.push_back(number[g.group(a)]);
  out.cost = g.cost();
  return out;
}

// Groups to begin with, as they were given: their decks by what their atoms allow; what is not in one piece, or allows
// no deck, is left without a group.
void take_start(Grouping& g, std::span<const std::uint32_t> start) {
  const auto& atoms = g.graph().atoms;
  std::vector<char> seen(g.atoms(), 0);
  for (std::uint32_t a = 0; a < g.atoms(); ++a) {
    if (seen[a] || start[a] == kNoAtom) continue;
    std::vector<std::uint32_t> part{a};
    seen[a] = 1;
    int low = atoms[a].deck_low, high = atoms[a].deck_high;
    for (std::size_t k = 0; k < part.size(); ++k)
      for (const AtomLink& link : g.links(part[k])) {
        if (seen[link.to] || start[link.to] != start[a]) continue;
        const Atom& next = atoms[link.to];
        if (std::max(low, next.deck_low) > std::min(high, next.deck_high)) continue;
        low = std::max(low, next.deck_low), high = std::min(high, next.deck_high);
        seen[link.to] = 1;
        part.push_back(link.to);
      }
    const std::uint32_t group = g.new_group(high);
    for (const std::uint32_t b : part) g.put(b, group);
  }
}

// A gathering of the same atoms, or of those they were joined to, taken over.
void take_over(Grouping& g, const Gathering& before, std::span<const std::uint32_t> of) {
  for (const int deck : before.deck) g.new_group(deck);
  for (std::uint32_t a = 0; a < g.atoms(); ++a) g.put(a, before.group[of[a]]);
}

void part_overfull(Grouping& g, Improver& improver, const GatherOptions& options, const Progress* progress) {
  for (int k = 0; k < kMostParts; ++k) {
    const auto full = overfull(g, options.hours);
    if (!full || is_cancelled(progress) || !part_group(g, *full)) return;
    improver.run(std::max(4, options.rounds / 12), 0.15);
    improver.settle();
  }
}

// Groups made as they must be: parted where over their hours, joined where two fit into one day.
Gathering finished(Grouping& g, Improver& improver, const GatherOptions& options, Progress* progress) {
  improver.settle();
  part_overfull(g, improver, options, progress);
  join_small(g, options.hours);
  improver.settle();
  return result(g);
}

bool worth_joining(const AtomGraph& graph, const Coarsened& coarse) {
  return !coarse.of.empty() &&
         static_cast<double>(coarse.graph.atoms.size()) <= kLeastGain * static_cast<double>(graph.atoms.size());
}

// Coarse first; then each finer step improves what came out.
Gathering gather_coarse(const AtomGraph& graph, const GatherOptions& options, const Way& way, Progress* progress) {
  Grouping g(graph);
  Improver improver(g, options, progress);
  const auto coarse =
      graph.atoms.size() > kCoarsest ? coarsen(graph, options.hours / way.of_hours, options.seed) : Coarsened{};
  if (worth_joining(graph, coarse)) {
    take_over(g, gather_coarse(coarse.graph, options, way, progress), coarse.of);
    improver.run(options.rounds / 2, kFineHeat);
  } else {
    start_groups(g, way.room * options.hours);
    improver.run(kCoarseRounds * options.rounds, kStartHeat);
  }
  return finished(g, improver, options, progress);
}

// Groups beyond those that the hours of each deck ask for, a tenth and one more allowed: each is a day.
double many_days(const AtomGraph& graph, const Gathering& g, double hours) {
  std::map<int, double> of_deck;
  for (std::size_t a = 0; a < g.group.size(); ++a) of_deck[g.deck[g.group[a]]] += graph.atoms[a].hours;
  double fewest = 0;
  for (const auto& [deck, sum] : of_deck) fewest += std::ceil(sum / hours - 1e-9);
  return std::max(0.0, static_cast<double>(g.deck.size()) - (1.1 * fewest + 1));
}

// The less, the better: cost times groups, and much more where some of them can't be painted in any order, or where
// they are too many.
double worth(const AtomGraph& graph, const GatherOptions& options, const Gathering& g) {
  return g.cost * static_cast<double>(g.deck.size()) * (1 + kTangle * static_cast<double>(tangled(graph, g))) *
         (1 + kManyDays * many_days(graph, g, options.hours));
}

// A gathering looked at again on atoms joined anew, only where they are `alike` (in one group of it, at the least).
Gathering again(const AtomGraph& graph, const GatherOptions& options, double of_hours, const Gathering& from,
                const std::vector<std::uint32_t>& alike, Progress* progress) {
  Grouping g(graph);
  Improver improver(g, options, progress);
  const auto coarse =
      graph.atoms.size() > kCoarsest / 2 ? coarsen(graph, options.hours / of_hours, options.seed, alike) : Coarsened{};
  if (worth_joining(graph, coarse)) {
    Gathering coarse_from{std::vector<std::uint32_t>(coarse.graph.atoms.size()), from.deck, 0};
    std::vector<std::uint32_t> coarse_alike(coarse.graph.atoms.size());
    for (std::size_t a = 0; a < graph.atoms.size(); ++a)
      coarse_from.group[coarse.of[a]] = from.group[a], coarse_alike[coarse.of[a]] = alike[a];
    take_over(g, again(coarse.graph, options, of_hours, coarse_from, coarse_alike, progress), coarse.of);
    improver.run(options.rounds / 4, kFineHeat);
  } else {
    take_over(g, from, identity(graph.atoms.size()));
    improver.run(4 * options.rounds, kAgainHeat);
  }
  return finished(g, improver, options, progress);
}

// Two gatherings as one: what both keep together stays together while atoms are joined.
std::vector<std::uint32_t> alike_in(const Gathering& one, const Gathering& other) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::uint32_t> number;
  std::vector<std::uint32_t> alike;
  for (std::size_t a = 0; a < one.group.size(); ++a)
    alike.push_back(
        number.try_emplace({one.group[a], other.group[a]}, static_cast<std::uint32_t>(number.size())).first->second);
  return alike;
}

struct Judged {
  Gathering gathering;
  double worth = 0;
};
Judged judged(const AtomGraph& graph, const GatherOptions& options, Gathering gathering) {
  const double w = worth(graph, options, gathering);
  return {std::move(gathering), w};
}

Gathering best_of(const AtomGraph& graph, const GatherOptions& options, Progress* progress) {
  const auto seeded = [&](std::size_t k) {
    GatherOptions own = options;
    own.seed = options.seed * 1000 + static_cast<std::uint32_t>(k);
    return own;
  };
  std::vector<Judged> found(static_cast<std::size_t>(std::max(1, options.tries)));
  for_each_item(found.size(), 1, [&](std::size_t k) {
    found[k] = judged(graph, options, gather_coarse(graph, seeded(k), kWays[k % kWays.size()], progress));
  });
  for (int generation = 0; generation < options.generations && !is_cancelled(progress); ++generation) {
    std::ranges::stable_sort(found, {}, &Judged::worth);
    found.resize(std::min(found.size(), kKept));
    std::vector<Judged> fresh(kPairs.size());
    for_each_item(fresh.size(), 1, [&](std::size_t k) {
      const Gathering &one = found[std::min(kPairs[k].first, found.size() - 1)].gathering,
                      &other = found[std::min(kPairs[k].second, found.size() - 1)].gathering;
      const std::size_t seed = found.size() + 100 * static_cast<std::size_t>(generation + 1) + k;
      fresh[k] =
          judged(graph, options,
                 again(graph, seeded(seed), kWays[k % kWays.size()].of_hours, one, alike_in(one, other), progress));
    });
    std::ranges::move(fresh, std::back_inserter(found));
  }
  return std::move(std::ranges::min_element(found, {}, &Judged::worth)->gathering);
}

}  // namespace

Gathering gather(const AtomGraph& graph, const GatherOptions& options, Progress* progress) {
  if (graph.atoms.empty()) return {};
  const bool none = std::ranges::all_of(options.start, [](std::uint32_t g) { return g == kNoAtom; });
  if (none || options.start.size() != graph.atoms.size()) return best_of(graph, options, progress);
  Grouping g(graph);
  take_start(g, options.start);
  start_groups(g, kWays[0].room * options.hours);
  Improver improver(g, options, progress);
  improver.run(4 * options.rounds, 0.7);
  Gathering best = finished(g, improver, options, progress);
  for (std::size_t k = 0; k < kLooksAgain && !is_cancelled(progress); ++k) {
    GatherOptions own = options;
    own.seed = options.seed * 1000 + static_cast<std::uint32_t>(k);
    Gathering next = again(graph, own, kWays[k % kWays.size()].of_hours, best, alike_in(best, best), progress);
    if (worth(graph, options, next) < worth(graph, options, best)) best = std::move(next);
  }
  return best;
}

}  // namespace pontata
