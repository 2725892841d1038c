#include "engine/proposal/grouping.h"

#include <algorithm>

namespace pontata {

Grouping::Grouping(const AtomGraph& graph)
    : graph_(graph), first_(graph.atoms.size() + 1, 0), group_(graph.atoms.size(), kNoAtom), seen_(graph.atoms.size()) {
  for (const AtomBorder& b : graph.borders) ++first_[b.a + 1], ++first_[b.b + 1];
  for (std::size_t k = 1; k < first_.size(); ++k) first_[k] += first_[k - 1];
  links_.resize(2 * graph.borders.size());
  auto next = first_;
  for (const AtomBorder& b : graph.borders) {
    links_[next[b.a]++] = {b.b, b.cost};
    links_[next[b.b]++] = {b.a, b.cost};
  }
}

std::uint32_t Grouping::new_group(int deck) {
  load_.push_back(0);
  count_.push_back(0);
  deck_.push_back(deck);
  return static_cast<std::uint32_t>(load_.size() - 1);
}

std::vector<std::uint32_t> Grouping::members(std::uint32_t g) const {
  std::vector<std::uint32_t> found;
  for (std::uint32_t a = 0; a < group_.size(); ++a)
    if (group_[a] == g) found.push_back(a);
  return found;
}

void Grouping::put(std::uint32_t a, std::uint32_t g) {
  if (const std::uint32_t old = group_[a]; old != kNoAtom) {
    load_[old] -= hours(a);
    --count_[old];
  }
  group_[a] = g;
  if (g == kNoAtom) return;
  load_[g] += hours(a);
  ++count_[g];
}

bool Grouping::spares(std::uint32_t a) const {
  const std::uint32_t g = group_[a];
  if (count_[g] < 2) return false;
  std::uint32_t beside = 0, from = kNoAtom;
  for (const AtomLink& link : links(a))
    if (group_[link.to] == g) ++beside, from = link.to;
  if (beside <= 1) return beside == 1;
  // From one neighbour all the others must be reached without the atom.
  ++stamp_;
  seen_[a] = seen_[from] = stamp_;
  stack_.assign(1, from);
  --beside;
  const auto is_beside = [&](std::uint32_t b) {
    return std::ranges::any_of(links(a), [&](const AtomLink& link) { return link.to == b; });
  };
  while (!stack_.empty()) {
    const std::uint32_t b = stack_.back();
    stack_.pop_back();
    for (const AtomLink& link : links(b)) {
      if (group_[link.to] != g || seen_[link.to] == stamp_) continue;
      seen_[link.to] = stamp_;
      if (is_beside(link.to) && --beside == 0) return true;
      stack_.push_back(link.to);
    }
  }
  return false;
}

double Grouping::cost_to(std::uint32_t a, std::uint32_t g) const {
  double sum = 0;
  for (const AtomLink& link : links(a))
    if (group_[link.to] == g) sum += link.cost;
  return sum;
}

double Grouping::cost() const {
  double sum = 0;
  for (const AtomBorder& b : graph_.borders)
    if (group_[b.a] != group_[b.b]) sum += b.cost;
  return sum;
}

}  // namespace pontata
