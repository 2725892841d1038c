#include "engine/proposal/coarsen.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <random>

#include "engine/proposal/grouping.h"

namespace pontata {

namespace {

bool agree(const Atom& a, const Atom& b) {
  return std::max(a.deck_low, b.deck_low) <= std::min(a.deck_high, b.deck_high);
}

Atom joined(const Atom& a, const Atom& b) {
  Atom both = a;
  both.area_m2 += b.area_m2;
  both.hours += b.hours;
  both.low_m = std::min(a.low_m, b.low_m);
  both.high_m = std::max(a.high_m, b.high_m);
  const double share = both.area_m2 > 0 ? b.area_m2 / both.area_m2 : 0.5;
  both.middle_m += share * (b.middle_m - a.middle_m);
  both.place += share * (b.place - a.place);
  both.deck_low = std::max(a.deck_low, b.deck_low);
  both.deck_high = std::min(a.deck_high, b.deck_high);
  if (a.whole == kNoAtom) both.whole = b.whole;
  return both;
}

}  // namespace

Coarsened coarsen(const AtomGraph& graph, double most_hours, std::uint32_t seed, std::span<const std::uint32_t> alike) {
  const Grouping links(graph);
  std::vector<std::uint32_t> order(graph.atoms.size());
  std::iota(order.begin(), order.end(), 0u);
  std::mt19937 chance(seed);
  for (std::size_t k = order.size(); k > 1; --k) std::swap(order[k - 1], order[chance() % k]);
  Coarsened made;
  made.of.assign(graph.atoms.size(), kNoAtom);
  for (const std::uint32_t a : order) {
    if (made.of[a] != kNoAtom) continue;
    std::uint32_t partner = kNoAtom;
    double most = 0;
    for (const AtomLink& link : links.links(a)) {
      const Atom &one = graph.atoms[a], &other = graph.atoms[link.to];
      if (!alike.empty() && alike[a] != alike[link.to]) continue;
      if (made.of[link.to] != kNoAtom || !agree(one, other) || one.hours + other.hours > most_hours) continue;
      const double worth = link.cost / (other.area_m2 + 0.2 * one.area_m2 + 1e-9);
      if (worth > most) most = worth, partner = link.to;
    }
    made.of[a] = static_cast<std::uint32_t>(made.graph.atoms.size());
    made.graph.atoms.push_back(partner == kNoAtom ? graph.atoms[a] : joined(graph.atoms[a], graph.atoms[partner]));
    if (partner != kNoAtom) made.of[partner] = made.of[a];
  }
  std::map<std::pair<std::uint32_t, std::uint32_t>, AtomBorder> borders;
  for (const AtomBorder& b : graph.borders) {
    const auto [low, high] = std::minmax(made.of[b.a], made.of[b.b]);
    if (low == high) continue;
    AtomBorder& sum = borders.try_emplace({low, high}, AtomBorder{low, high, 0, 0}).first->second;
    sum.length_m += b.length_m;
    sum.cost += b.cost;
    const bool same_way = made.of[b.a] == low;
    sum.falls_m += same_way ? b.falls_m : b.rises_m;
    sum.rises_m += same_way ? b.rises_m : b.falls_m;
  }
  for (const auto& [pair, border] : borders) made.graph.borders.push_back(border);
  return made;
}

}  // namespace pontata
