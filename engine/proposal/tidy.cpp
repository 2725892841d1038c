#include "engine/proposal/tidy.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <queue>

namespace pontata {

namespace {

constexpr std::array<std::array<int, 2>, 8> kRound{
    {{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {1, 1}, {-1, 1}, {-1, -1}, {1, -1}}};
constexpr double kScrap = 0.01;  // of the hours: a piece so small goes to a neighbour that is full, too
constexpr float kFar = std::numeric_limits<float>::infinity();

class Tidy {
 public:
  Tidy(const ProposalGround& ground, double width_m, double hours, CellGroups& groups)
      : ground_(ground), width_(static_cast<float>(width_m)), hours_(hours), groups_(groups) {}

  void open() {
    const auto depth = depths();
    const auto kept = reached(depth);
    give_away(kept);
  }

  void pieces() {
    std::vector<char> seen(size(), 0);
    std::map<std::uint32_t, std::vector<std::vector<std::size_t>>> parts;
    for (std::size_t k = 0; k < size(); ++k)
      if (groups_.of_cell[k] != kNoAtom && !seen[k]) parts[groups_.of_cell[k]].push_back(part_of(k, seen));
    for (auto& [group, list] : parts) {
      const auto largest =
          std::max_element(list.begin(), list.end(), [](const auto& a, const auto& b) { return a.size() < b.size(); });
      for (auto part = list.begin(); part != list.end(); ++part)
        if (part != largest) settle(*part, group);
    }
  }

  void count_hours() {
    groups_.hours.assign(groups_.deck.size(), 0);
    for (std::size_t k = 0; k < size(); ++k)
      if (groups_.of_cell[k] != kNoAtom) groups_.hours[groups_.of_cell[k]] += ground_.hours[k];
  }

 private:
  std::size_t size() const { return groups_.of_cell.size(); }
  float step(std::size_t k, int di, int dj) const {
    const float x = di != 0 ? ground_.across[k] : 0, y = dj != 0 ? ground_.up[k] : 0;
    return std::sqrt(x * x + y * y);
  }
  template <class Visit>
  void round(std::size_t k, int directions, const Visit& visit) const {
    const int i = static_cast<int>(k % static_cast<std::size_t>(ground_.columns)),
              j = static_cast<int>(k / static_cast<std::size_t>(ground_.columns));
    for (int d = 0; d < directions; ++d) {
      const auto& [di, dj] = kRound[static_cast<std::size_t>(d)];
      visit(i + di, j + dj, di, dj);
    }
  }

  // One of the free cells about it is such a one.
  template <class Such>
  bool beside(std::size_t k, int directions, const Such& such) const {
    bool found = false;
    round(k, directions,
          [&](int i, int j, int, int) { found = found || (ground_.is_free(i, j) && such(ground_.index(i, j))); });
    return found;
  }

  using Open = std::pair<float, std::size_t>;
  using Queue = std::priority_queue<Open, std::vector<Open>, std::greater<>>;

  // Surface metres from each cell's middle to the rim of its group; kFar where that is half a tip's width or more.
  std::vector<float> depths() const {
    std::vector<float> depth(size(), kFar);
    Queue open;
    for (std::size_t k = 0; k < size(); ++k) {
      if (groups_.of_cell[k] == kNoAtom) continue;
      round(k, 4, [&](int i, int j, int di, int dj) {
        if (ground_.is_free(i, j) && groups_.of_cell[ground_.index(i, j)] == groups_.of_cell[k]) return;
        depth[k] = std::min(depth[k], step(k, di, dj) / 2);
      });
      if (depth[k] < kFar) open.push({depth[k], k});
    }
    spread(depth, open, width_ / 2,
           [&](std::size_t from, std::size_t to) { return groups_.of_cell[from] == groups_.of_cell[to]; });
    return depth;
  }

  // Values below `most` only.
  template <class May>
  void spread(std::vector<float>& value, Queue& open, float most, const May& may) const {
    while (!open.empty()) {
      const auto [at, k] = open.top();
      open.pop();
      if (at > value[k]) continue;
      round(k, 8, [&](int i, int j, int di, int dj) {
        if (!ground_.is_free(i, j)) return;
        const std::size_t n = ground_.index(i, j);
        const float next = at + step(n, di, dj);
        if (next >= most || next >= value[n] || !may(k, n)) return;
        value[n] = next;
        open.push({next, n});
      });
    }
  }

  // Cells that a disc inside their group reaches.
  std::vector<char> reached(const std::vector<float>& depth) const {
    std::vector<float> way(size(), kFar);
    Queue open;
    const float radius = width_ / 2;
    for (std::size_t k = 0; k < size(); ++k)
      if (groups_.of_cell[k] != kNoAtom && (depth[k] >= radius || ground_.whole[k] != kNoAtom)) way[k] = 0;
    for (std::size_t k = 0; k < size(); ++k)
      if (way[k] == 0 && beside(k, 8, [&](std::size_t n) { return way[n] > 0; })) open.push({0, k});
    const float most = 1.1f * radius;
    spread(way, open, most,
           [&](std::size_t from, std::size_t to) { return groups_.of_cell[from] == groups_.of_cell[to]; });
    std::vector<char> kept(size(), 0);
    for (std::size_t k = 0; k < size(); ++k) kept[k] = way[k] <= most;
    return kept;
  }

  void give_away(const std::vector<char>& kept) {
    std::vector<float> way(size(), kFar);
    std::vector<std::uint32_t> to(size(), kNoAtom);
    Queue open;
    for (std::size_t k = 0; k < size(); ++k)
      if (kept[k]) {
        way[k] = 0, to[k] = groups_.of_cell[k];
        if (beside(k, 4, [&](std::size_t n) { return !kept[n]; })) open.push({0, k});
      }
    while (!open.empty()) {
      const auto [at, k] = open.top();
      open.pop();
      if (at > way[k]) continue;
      round(k, 4, [&](int i, int j, int di, int dj) {
        if (!ground_.is_free(i, j)) return;
        const std::size_t n = ground_.index(i, j);
        if (kept[n]) return;
        const float next = at + step(n, di, dj);
        if (next >= way[n] || !has_room(to[k], n)) return;
        if (to[n] != to[k]) move(n, to[k]);
        way[n] = next, to[n] = to[k];
        open.push({next, n});
      });
    }
  }

  bool has_room(std::uint32_t group, std::size_t cell) const {
    return groups_.of_cell[cell] == group || groups_.hours[group] + ground_.hours[cell] <= hours_;
  }
  void move(std::size_t cell, std::uint32_t group) {
    std::uint32_t& now = groups_.of_cell[cell];
    if (now != kNoAtom) groups_.hours[now] -= ground_.hours[cell];
    groups_.hours[group] += ground_.hours[cell];
    now = group;
  }

  std::vector<std::size_t> part_of(std::size_t start, std::vector<char>& seen) const {
    std::vector<std::size_t> part{start};
    seen[start] = 1;
    for (std::size_t at = 0; at < part.size(); ++at)
      round(part[at], 4, [&](int i, int j, int, int) {
        if (!ground_.is_free(i, j)) return;
        const std::size_t n = ground_.index(i, j);
        if (seen[n] || groups_.of_cell[n] != groups_.of_cell[start]) return;
        seen[n] = 1;
        part.push_back(n);
      });
    return part;
  }

  // A piece that came off: to the neighbour of the same deck that it shares most rim with and that has room.
  void settle(const std::vector<std::size_t>& part, std::uint32_t group) {
    std::map<std::uint32_t, int> beside;
    double hours = 0, area = 0;
    for (const std::size_t k : part) {
      hours += ground_.hours[k], area += ground_.area[k];
      round(k, 4, [&](int i, int j, int, int) {
        if (!ground_.is_free(i, j)) return;
        const std::uint32_t other = groups_.of_cell[ground_.index(i, j)];
        if (other != group && other != kNoAtom) ++beside[other];
      });
    }
    std::uint32_t best = kNoAtom;
    for (const auto& [other, count] : beside) {
      if (groups_.hours[other] + hours > hours_ && hours > kScrap * hours_) continue;
      if (groups_.deck[other] != groups_.deck[group] && area > 0.1) continue;
      if (best == kNoAtom || count > beside[best]) best = other;
    }
    if (best == kNoAtom) {
      best = static_cast<std::uint32_t>(groups_.deck.size());
      groups_.deck.push_back(groups_.deck[group]);
      groups_.hours.push_back(0);
    }
    for (const std::size_t k : part) move(k, best);
  }

  const ProposalGround& ground_;
  float width_;
  double hours_;
  CellGroups& groups_;
};

}  // namespace

void tidy_groups(const ProposalGround& ground, double width_m, double hours, CellGroups& groups) {
  Tidy tidy(ground, width_m, hours, groups);
  tidy.count_hours();
  tidy.open();
  tidy.pieces();
}

}  // namespace pontata
