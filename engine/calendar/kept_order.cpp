#include "engine/calendar/kept_order.h"

#include <algorithm>
#include <numeric>

namespace pontata {

KeptOrder::KeptOrder(std::size_t places) : rank_(places), after_(places), before_(places), seen_(places, false) {
  std::iota(rank_.begin(), rank_.end(), std::size_t{0});
}

bool KeptOrder::add(std::size_t from, std::size_t to) {
  if (from == to) return false;
  if (rank_[from] > rank_[to]) {
    std::vector<std::size_t> later, earlier;
    const bool free = forward(to, rank_[from], later);
    if (free) backward(from, rank_[to], earlier);
    for (const auto* met : {&later, &earlier})
      for (const std::size_t i : *met) seen_[i] = false;
    if (!free) return false;
    rearrange(earlier, later);
  }
  after_[from].push_back(to);
  before_[to].push_back(from);
  return true;
}

// Places after `start` up to rank `last`; false when the place of that rank is among them.
bool KeptOrder::forward(std::size_t start, std::size_t last, std::vector<std::size_t>& met) {
  met.push_back(start);
  seen_[start] = true;
  for (std::size_t head = 0; head < met.size(); ++head)
    for (const std::size_t k : after_[met[head]]) {
      if (rank_[k] == last) return false;
      if (seen_[k] || rank_[k] > last) continue;
      seen_[k] = true;
      met.push_back(k);
    }
  return true;
}

// Places before `start` down to rank `first`.
void KeptOrder::backward(std::size_t start, std::size_t first, std::vector<std::size_t>& met) {
  met.push_back(start);
  seen_[start] = true;
  for (std::size_t head = 0; head < met.size(); ++head)
    for (const std::size_t k : before_[met[head]]) {
      if (seen_[k] || rank_[k] < first) continue;
      seen_[k] = true;
      met.push_back(k);
    }
}

// The ranks of both lots, shared out anew: first the earlier, then the later, each in its order.
void KeptOrder::rearrange(std::vector<std::size_t>& earlier, std::vector<std::size_t>& later) {
  const auto by_rank = [&](std::size_t a, std::size_t b) { return rank_[a] < rank_[b]; };
  std::sort(earlier.begin(), earlier.end(), by_rank);
  std::sort(later.begin(), later.end(), by_rank);
  std::vector<std::size_t> places = earlier, ranks;
  places.insert(places.end(), later.begin(), later.end());
  for (const std::size_t i : places) ranks.push_back(rank_[i]);
  std::sort(ranks.begin(), ranks.end());
  for (std::size_t k = 0; k < places.size(); ++k) rank_[places[k]] = ranks[k];
}

}  // namespace pontata
