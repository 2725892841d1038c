#include "engine/proposal/gather.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <optional>
#include <random>

#include "engine/base/parallel.h"
#include "engine/proposal/coarsen.h"
#include "engine/proposal/grouping.h"

namespace pontata {

namespace {

constexpr int kMostParts = 64;          // times that a group over its hours is parted
constexpr std::size_t kCoarsest = 300;  // atoms that are not joined further
constexpr double kOfHours = 8;          // an atom joined holds at most this part of the hours
constexpr double kLeastGain = 0.9;      // of the atoms left by joining: more, and it is not worth it
// Of the hours that groups are filled to on the average: fuller ones are fewer, and harder to even out.
constexpr std::array<double, 2> kRooms{0.94, 0.985};
constexpr double kNearlyFull = 0.85, kPass = 2;
constexpr int kCoarseRounds = 20;  // times the rounds, on the few atoms that were joined

class Improver {
 public:
  Improver(Grouping& grouping, const GatherOptions& options, Progress* progress)
      : g_(grouping), options_(options), progress_(progress), chance_(options.seed) {
    double sum = 0;
    for (const AtomBorder& b : g_.graph().borders) sum += b.cost;
    mean_cost_ = g_.graph().borders.empty() ? 1 : sum / static_cast<double>(g_.graph().borders.size());
  }

  // Rounds of moves, warm at first (`heat` times the mean cost of a border), calm at the end.
  void run(int rounds, double heat) {
    const double hour = 6 * mean_cost_;  // what an hour too much costs at first
    for (int round = 0; round < rounds && !is_cancelled(progress_); ++round) {
      const double left = 1 - static_cast<double>(round + 1) / rounds;
      warmth_ = heat * mean_cost_ * left * left;
      over_ = hour * (1 + 12 * (1 - left));
      pass_ = kPass * left;
      for (std::size_t k = 0; k < g_.atoms(); ++k) try_move(any_atom());
    }
  }

  // Every move that gains, until there is none.
  void settle() {
    warmth_ = pass_ = 0;
    for (int round = 0; round < 40; ++round) {
      bool moved = false;
      for (std::uint32_t a = 0; a < g_.atoms(); ++a) moved |= try_move(a);
      if (!moved || is_cancelled(progress_)) return;
    }
  }

 private:
  std::uint32_t any_atom() { return static_cast<std::uint32_t>(chance_() % g_.atoms()); }
  double penalty(double load) const {
    const double over = std::max(0.0, load - options_.hours);
    // A little before it is full a group begins to pass on, so that room at one end is felt at the other.
    const double near = std::max(0.0, load - kNearlyFull * options_.hours);
    return over_ * (over + 2 * over * over / options_.hours + pass_ * near * near / options_.hours);
  }

  bool try_move(std::uint32_t a) {
    const std::uint32_t from = g_.group(a);
    std::uint32_t to = kNoAtom;
    double gain = -std::numeric_limits<double>::infinity();
    const double stays = g_.cost_to(a, from);
    for (const AtomLink& link : g_.links(a)) {
      const std::uint32_t other = g_.group(link.to);
      if (other == from || other == to || !g_.may_take(other, a)) continue;
      const double now = penalty(g_.load(from)) + penalty(g_.load(other));
      const double then = penalty(g_.load(from) - g_.hours(a)) + penalty(g_.load(other) + g_.hours(a));
      const double gains = g_.cost_to(a, other) - stays + now - then;
      if (gains > gain) gain = gains, to = other;
    }
    if (to == kNoAtom) return false;
    if (gain <= 1e-12) {
      if (warmth_ <= 0) return false;
      const double x = static_cast<double>(chance_()) / static_cast<double>(std::mt19937::max());
      if (x >= std::exp(gain / warmth_)) return false;
    }
    if (!g_.spares(a)) return false;
    g_.put(a, to);
    return true;
  }

  Grouping& g_;
  const GatherOptions& options_;
  Progress* progress_;
  std::mt19937 chance_;
  double mean_cost_ = 1, warmth_ = 0, over_ = 1, pass_ = 0;
};

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

// Coarse first; then each finer step improves what came out.
Gathering gather_coarse(const AtomGraph& graph, const GatherOptions& options, double room, Progress* progress) {
  Grouping g(graph);
  Improver improver(g, options, progress);
  const auto coarse =
      graph.atoms.size() > kCoarsest ? coarsen(graph, options.hours / kOfHours, options.seed) : Coarsened{};
  if (coarse.of.empty() ||
      static_cast<double>(coarse.graph.atoms.size()) > kLeastGain * static_cast<double>(graph.atoms.size())) {
    start_groups(g, room * options.hours);
    improver.run(kCoarseRounds * options.rounds, 2.0);
  } else {
    take_over(g, gather_coarse(coarse.graph, options, room, progress), coarse.of);
    improver.run(options.rounds / 2, 0.3);
  }
  improver.settle();
  part_overfull(g, improver, options, progress);
  join_small(g, options.hours);
  improver.settle();
  return result(g);
}

double worth(const Gathering& g) { return g.cost * static_cast<double>(g.deck.size()); }

Gathering best_of(const AtomGraph& graph, const GatherOptions& options, Progress* progress) {
  std::vector<Gathering> found(static_cast<std::size_t>(std::max(1, options.tries)));
  for_each_item(found.size(), 1, [&](std::size_t k) {
    GatherOptions own = options;
    own.seed = options.seed * 1000 + static_cast<std::uint32_t>(k);
    found[k] = gather_coarse(graph, own, kRooms[k % kRooms.size()], progress);
  });
  return *std::ranges::min_element(found, {}, worth);
}

}  // namespace

Gathering gather(const AtomGraph& graph, const GatherOptions& options, Progress* progress) {
  if (graph.atoms.empty()) return {};
  if (options.start.size() != graph.atoms.size()) return best_of(graph, options, progress);
  Grouping g(graph);
  take_start(g, options.start);
  start_groups(g, kRooms[0] * options.hours);
  Improver improver(g, options, progress);
  improver.run(4 * options.rounds, 0.7);
  improver.settle();
  part_overfull(g, improver, options, progress);
  join_small(g, options.hours);
  improver.settle();
  return result(g);
}

}  // namespace pontata
