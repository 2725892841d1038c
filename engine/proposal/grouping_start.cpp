#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

#include "engine/proposal/grouping.h"

namespace pontata {

namespace {

using Atomset = std::vector<std::uint32_t>;

// Steps from the given atoms over those of the set (mark), by how far their middles lie apart.
std::vector<double> ways(const Grouping& g, const std::vector<char>& mark, const Atomset& from) {
  std::vector<double> way(g.atoms(), std::numeric_limits<double>::infinity());
  using Open = std::pair<double, std::uint32_t>;
  std::priority_queue<Open, std::vector<Open>, std::greater<>> open;
  for (const std::uint32_t a : from) way[a] = 0, open.push({0, a});
  while (!open.empty()) {
    const auto [d, a] = open.top();
    open.pop();
    if (d > way[a]) continue;
    for (const AtomLink& link : g.links(a)) {
      if (!mark[link.to]) continue;
      const double next = d + glm::distance(g.graph().atoms[a].place, g.graph().atoms[link.to].place);
      if (next < way[link.to]) way[link.to] = next, open.push({next, link.to});
    }
  }
  return way;
}

std::uint32_t farthest(const Atomset& of, const std::vector<double>& way) {
  return *std::max_element(of.begin(), of.end(), [&](std::uint32_t a, std::uint32_t b) { return way[a] < way[b]; });
}

// Seeds far from each other: the first at the set's far end.
Atomset far_seeds(const Grouping& g, const Atomset& set, const std::vector<char>& mark, std::size_t count) {
  Atomset seeds{farthest(set, ways(g, mark, {set.front()}))};
  while (seeds.size() < std::min(count, set.size())) seeds.push_back(farthest(set, ways(g, mark, seeds)));
  return seeds;
}

// The emptiest group that still borders a free atom takes the one that it shares most border with.
void grow(Grouping& g, const std::vector<std::uint32_t>& groups, std::vector<char>& mark, const Atomset& set) {
  using Open = std::pair<double, std::uint32_t>;  // share of border, atom
  std::vector<std::priority_queue<Open>> edge(groups.size());
  const auto widen = [&](std::size_t k, std::uint32_t a) {
    for (const AtomLink& link : g.links(a))
      if (mark[link.to]) edge[k].push({g.cost_to(link.to, groups[k]), link.to});
  };
  for (const std::uint32_t a : set)
    for (std::size_t k = 0; k < groups.size(); ++k)
      if (g.group(a) == groups[k]) mark[a] = 0, widen(k, a);
  for (;;) {
    std::size_t best = groups.size();
    for (std::size_t k = 0; k < groups.size(); ++k) {
      while (!edge[k].empty() && !mark[edge[k].top().second]) edge[k].pop();
      if (!edge[k].empty() && (best == groups.size() || g.load(groups[k]) < g.load(groups[best]))) best = k;
    }
    if (best == groups.size()) return;
    const std::uint32_t a = edge[best].top().second;
    mark[a] = 0;
    g.put(a, groups[best]);
    widen(best, a);
  }
}

void share_out(Grouping& g, const Atomset& set, std::size_t count, int deck, std::uint32_t first) {
  std::vector<char> mark(g.atoms(), 0);
  for (const std::uint32_t a : set) mark[a] = 1;
  const Atomset seeds = far_seeds(g, set, mark, count);
  std::vector<std::uint32_t> groups;
  for (const std::uint32_t seed : seeds) {
    groups.push_back(groups.empty() && first != kNoAtom ? first : g.new_group(deck));
    g.put(seed, groups.back());
  }
  grow(g, groups, mark, set);
}

// Atoms without a group that hang together with `a` and go by the same deck.
Atomset part_of(const Grouping& g, const std::vector<int>& deck, std::uint32_t a, std::vector<char>& seen) {
  Atomset part{a};
  seen[a] = 1;
  for (std::size_t k = 0; k < part.size(); ++k)
    for (const AtomLink& link : g.links(part[k]))
      if (!seen[link.to] && g.group(link.to) == kNoAtom && deck[link.to] == deck[a]) {
        seen[link.to] = 1;
        part.push_back(link.to);
      }
  return part;
}

}  // namespace

void start_groups(Grouping& g, double hours) {
  std::vector<int> deck(g.atoms());
  std::vector<char> seen(g.atoms(), 0);
  // Where atoms may go by two decks they begin with the upper one: it is worked first.
  for (std::uint32_t a = 0; a < g.atoms(); ++a) deck[a] = g.graph().atoms[a].deck_high;
  for (std::uint32_t a = 0; a < g.atoms(); ++a) {
    if (seen[a] || g.group(a) != kNoAtom) continue;
    const Atomset part = part_of(g, deck, a, seen);
    double sum = 0;
    for (const std::uint32_t b : part) sum += g.hours(b);
    const auto count = static_cast<std::size_t>(std::max(1.0, std::ceil(sum / hours - 1e-9)));
    share_out(g, part, count, deck[a], kNoAtom);
  }
}

bool part_group(Grouping& g, std::uint32_t group) {
  const Atomset set = g.members(group);
  if (set.size() < 2) return false;
  for (const std::uint32_t a : set) g.put(a, kNoAtom);
  share_out(g, set, 2, g.deck(group), group);
  return true;
}

}  // namespace pontata
