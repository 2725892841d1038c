#include "engine/calendar/order.h"

#include <algorithm>
#include <functional>
#include <queue>
#include <set>
#include <tuple>
#include <unordered_map>

#include "engine/calendar/kept_order.h"

namespace pontata {

namespace {

// One precedence between places of the list.
struct Arrow {
  std::size_t from, to;
  const Precedence* what;
};

bool holds_always(const Precedence& p) { return p.why == PrecedenceWhy::asked || p.why == PrecedenceWhy::deck; }

std::vector<Arrow> arrows_of(std::span<const GiornataId> list, std::span<const Precedence> precedence) {
  std::unordered_map<GiornataId, std::size_t> place;
  for (std::size_t i = 0; i < list.size(); ++i) place[list[i]] = i;
  std::vector<Arrow> arrows;
  for (const Precedence& p : precedence) {
    const auto from = place.find(p.before), to = place.find(p.after);
    if (from != place.end() && to != place.end()) arrows.push_back({from->second, to->second, &p});
  }
  return arrows;
}

// The order in which precedences are taken: what holds always first, of it the decks before what is asked, and that as
// it was laid down; then drips, then crowns, each from the heaviest; of equal ones those that agree with the list, then
// those that hold back the later of the list.
void by_strength(std::vector<Arrow>& arrows) {
  const auto kind = [](const Arrow& a) {
    switch (a.what->why) {
      case PrecedenceWhy::deck:
        return 0;
      case PrecedenceWhy::asked:
        return 1;
      case PrecedenceWhy::drips:
        return 2;
      case PrecedenceWhy::crown:
        break;
    }
    return 3;
  };
  std::stable_sort(arrows.begin(), arrows.end(), [&](const Arrow& a, const Arrow& b) {
    if (kind(a) != kind(b)) return kind(a) < kind(b);
    if (holds_always(*a.what)) return false;
    if (a.what->weight != b.what->weight) return a.what->weight > b.what->weight;
    const bool agrees = a.from < a.to, other = b.from < b.to;
    if (agrees != other) return agrees;
    return std::tie(a.to, a.from) > std::tie(b.to, b.from);
  });
}

// After each place those that come later, of what holds always.
using Arrows = std::vector<std::vector<std::size_t>>;

// The places of a shortest circle that an arrow closes, itself the last step of it. Breadth first: E. F. Moore, "The
// Shortest Path through a Maze", Proc. Int. Symp. on the Theory of Switching, 1959.
std::vector<std::size_t> circle_closed_by(const Arrow& closing, const Arrows& after) {
  constexpr std::size_t kNever = static_cast<std::size_t>(-1);
  std::vector<std::size_t> from(after.size(), kNever), queue{closing.to};
  from[closing.to] = closing.to;
  for (std::size_t head = 0; head < queue.size() && from[closing.from] == kNever; ++head)
    for (const std::size_t k : after[queue[head]])
      if (from[k] == kNever) {
        from[k] = queue[head];
        queue.push_back(k);
      }
  std::vector<std::size_t> circle{closing.from};
  while (circle.back() != closing.to) circle.push_back(from[circle.back()]);
  return {circle.rbegin(), circle.rend()};
}

// For each that gave way of what holds always the circle that it closes, the shortest first.
std::vector<std::vector<GiornataId>> circles_of(std::span<const GiornataId> list, const std::vector<Arrow>& firm,
                                                const std::vector<Arrow>& gave_way) {
  Arrows after(list.size());
  for (const Arrow& a : firm) after[a.from].push_back(a.to);
  std::set<std::tuple<std::size_t, std::vector<GiornataId>>> circles;
  for (const Arrow& a : gave_way) {
    std::vector<GiornataId> circle;
    for (const std::size_t i : circle_closed_by(a, after)) circle.push_back(list[i]);
    std::rotate(circle.begin(), std::min_element(circle.begin(), circle.end()), circle.end());
    circles.insert({circle.size(), circle});
  }
  std::vector<std::vector<GiornataId>> told;
  for (const auto& [size, circle] : circles) told.push_back(circle);
  return told;
}

// At every step the first of the list before which nothing is still to come.
std::vector<GiornataId> nearest(std::span<const GiornataId> list, const std::vector<Arrow>& kept) {
  std::vector<int> waits(list.size(), 0);
  Arrows after(list.size());
  for (const Arrow& a : kept) after[a.from].push_back(a.to), ++waits[a.to];
  std::priority_queue<std::size_t, std::vector<std::size_t>, std::greater<>> free;
  for (std::size_t i = 0; i < list.size(); ++i)
    if (waits[i] == 0) free.push(i);
  std::vector<GiornataId> order;
  while (!free.empty()) {
    const std::size_t i = free.top();
    free.pop();
    order.push_back(list[i]);
    for (const std::size_t k : after[i])
      if (--waits[k] == 0) free.push(k);
  }
  return order;
}

}  // namespace

Ordered order_by(std::span<const GiornataId> list, std::span<const Precedence> precedence) {
  std::vector<Arrow> arrows = arrows_of(list, precedence);
  by_strength(arrows);
  Ordered result;
  std::vector<Arrow> kept, firm, gave_way;
  KeptOrder acyclic(list.size());
  for (const Arrow& a : arrows) {
    if (holds_always(*a.what)) firm.push_back(a);
    if (acyclic.add(a.from, a.to)) {
      kept.push_back(a);
      continue;
    }
    result.broken.push_back(*a.what);
    if (holds_always(*a.what)) gave_way.push_back(a);
  }
  result.circles = circles_of(list, firm, gave_way);
  result.order = nearest(list, kept);
  return result;
}

}  // namespace pontata
