#include "engine/proposal/atoms.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <queue>
#include <random>

namespace pontata {

namespace {

constexpr float kCrossing = 40;     // a cell on a plain contour is as wide as so many
constexpr double kReachDown = 0.3;  // m below a deck (common practice, no source), as deck_checks
constexpr double kSteep = 0.5;      // of fall to way: less, and nobody can say which way a drop goes
constexpr double kHidden = 0.97;    // of a seam's cost that the plainest contour takes off

constexpr std::array<std::array<int, 2>, 4> kBeside{{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}};

class Growth {
 public:
  Growth(const ProposalGround& ground, std::vector<std::uint32_t>& atom)
      : ground_(ground), atom_(atom), cost_(atom.size(), std::numeric_limits<float>::infinity()) {}

  void seed(std::size_t cell, std::uint32_t atom) {
    atom_[cell] = atom;
    cost_[cell] = 0;
    open_.push({0, static_cast<std::uint32_t>(cell)});
  }
  // A cell that is this atom's, which does not grow from it.
  void hold(std::size_t cell, std::uint32_t atom) {
    atom_[cell] = atom;
    cost_[cell] = 0;
  }
  bool taken(std::size_t cell) const { return atom_[cell] != kNoAtom; }

  void run() {
    while (!open_.empty()) {
      const auto [cost, cell] = open_.top();
      open_.pop();
      if (cost > cost_[cell]) continue;
      const int i = static_cast<int>(cell % static_cast<std::uint32_t>(ground_.columns)),
                j = static_cast<int>(cell / static_cast<std::uint32_t>(ground_.columns));
      for (const auto& [di, dj] : kBeside)
        if (ground_.is_free(i + di, j + dj)) relax(cell, ground_.index(i + di, j + dj), di != 0);
    }
  }

 private:
  void relax(std::uint32_t from, std::size_t to, bool across) {
    const float length = across ? ground_.across[to] : ground_.up[to];
    const float cost = cost_[from] + length * (1 + kCrossing * std::max(ground_.hides[from], ground_.hides[to]));
    if (cost >= cost_[to]) return;
    cost_[to] = cost;
    atom_[to] = atom_[from];
    open_.push({cost, static_cast<std::uint32_t>(to)});
  }

  using Open = std::pair<float, std::uint32_t>;
  const ProposalGround& ground_;
  std::vector<std::uint32_t>& atom_;
  std::vector<float> cost_;
  std::priority_queue<Open, std::vector<Open>, std::greater<>> open_;
};

// Cells of keep-whole zones that touch are one atom, and no others are in it.
std::uint32_t seed_zones(const ProposalGround& ground, Growth& growth) {
  std::uint32_t next = 0;
  std::vector<std::size_t> stack;
  for (std::size_t start = 0; start < ground.whole.size(); ++start) {
    if (ground.whole[start] == kNoAtom || growth.taken(start)) continue;
    growth.hold(start, next);
    stack.push_back(start);
    while (!stack.empty()) {
      const int i = static_cast<int>(stack.back() % static_cast<std::size_t>(ground.columns)),
                j = static_cast<int>(stack.back() / static_cast<std::size_t>(ground.columns));
      stack.pop_back();
      for (const auto& [di, dj] : kBeside) {
        if (!ground.is_free(i + di, j + dj)) continue;
        const std::size_t k = ground.index(i + di, j + dj);
        if (ground.whole[k] == kNoAtom || growth.taken(k)) continue;
        growth.hold(k, next);
        stack.push_back(k);
      }
    }
    ++next;
  }
  return next;
}

// One seed in each square of cells: where contours are farthest, by chance among equals.
std::uint32_t seed_squares(const ProposalGround& ground, const ProposalSettings& settings, std::uint32_t next,
                           Growth& growth) {
  const auto count = static_cast<double>(std::count(ground.free.begin(), ground.free.end(), 1));
  const int side = std::max(2, static_cast<int>(std::lround(std::sqrt(count / std::max(1, settings.atoms)))));
  std::minstd_rand chance(settings.seed);
  std::uniform_real_distribution<float> jitter(0, 0.05f);
  for (int b = 0; b < ground.rows; b += side)
    for (int a = 0; a < ground.columns; a += side) {
      float least = std::numeric_limits<float>::infinity();
      std::size_t best = 0;
      int seen = 0;
      for (int j = b; j < std::min(b + side, ground.rows); ++j)
        for (int i = a; i < std::min(a + side, ground.columns); ++i) {
          const std::size_t k = ground.index(i, j);
          if (!ground.free[k] || growth.taken(k)) continue;
          ++seen;
          float hides = ground.hides[k] + jitter(chance);
          for (const auto& [di, dj] : kBeside)
            if (ground.is_free(i + di, j + dj)) hides += 0.5f * ground.hides[ground.index(i + di, j + dj)];
          if (hides < least) least = hides, best = k;
        }
      if (2 * seen >= side * side) growth.seed(best, next++);
    }
  return next;
}

void gather_atoms(const ProposalGround& ground, std::span<const std::uint32_t> of_cell, std::vector<Atom>& atoms) {
  for (int j = 0; j < ground.rows; ++j)
    for (int i = 0; i < ground.columns; ++i) {
      const std::size_t k = ground.index(i, j);
      if (of_cell[k] == kNoAtom) continue;
      Atom& atom = atoms[of_cell[k]];
      const double area = ground.area[k], height = ground.height[k];
      if (atom.area_m2 == 0) atom.low_m = atom.high_m = height;
      atom.area_m2 += area;
      atom.hours += ground.hours[k];
      atom.low_m = std::min(atom.low_m, height);
      atom.high_m = std::max(atom.high_m, height);
      atom.middle_m += area * height;
      atom.place += area * ground.middle(i, j);
      if (ground.whole[k] != kNoAtom) atom.whole = ground.whole[k];
    }
  for (Atom& atom : atoms)
    if (atom.area_m2 > 0) atom.middle_m /= atom.area_m2, atom.place /= atom.area_m2;
}

std::vector<AtomBorder> borders_of(const ProposalGround& ground, std::span<const std::uint32_t> of_cell,
                                   double strict) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, AtomBorder> found;
  const auto add = [&](std::size_t p, std::size_t q, double length, double apart) {
    const auto [a, b] = std::minmax(of_cell[p], of_cell[q]);
    if (b == kNoAtom || a == b) return;
    AtomBorder& border = found.try_emplace({a, b}, AtomBorder{a, b, 0, 0}).first->second;
    border.length_m += length;
    if (const double fall = static_cast<double>(ground.height[p]) - static_cast<double>(ground.height[q]);
        std::abs(fall) > kSteep * apart)
      ((fall > 0) == (of_cell[p] == a) ? border.falls_m : border.rises_m) += length;
    border.cost += length * (1 - strict * kHidden * std::max(ground.hides[p], ground.hides[q]));
  };
  for (int j = 0; j < ground.rows; ++j)
    for (int i = 0; i < ground.columns; ++i) {
      const std::size_t k = ground.index(i, j);
      if (of_cell[k] == kNoAtom) continue;
      if (i + 1 < ground.columns) add(k, ground.index(i + 1, j), ground.up[k], ground.across[k]);
      if (j + 1 < ground.rows) add(k, ground.index(i, j + 1), ground.across[k], ground.up[k]);
    }
  std::vector<AtomBorder> borders;
  for (auto& [pair, border] : found) borders.push_back(border);
  return borders;
}

std::vector<double> decks_of(const ProposalInput& input, std::span<const Atom> atoms) {
  double low = 0, high = 0;
  for (std::size_t k = 0; k < atoms.size(); ++k) {
    low = k == 0 ? atoms[k].low_m : std::min(low, atoms[k].low_m);
    high = k == 0 ? atoms[k].high_m : std::max(high, atoms[k].high_m);
  }
  return deck_levels(input.calendar, std::min(low, input.foot_m.value_or(low)), high);
}

void set_decks(std::vector<Atom>& atoms, std::span<const double> decks, const CalendarSettings& calendar) {
  const int last = static_cast<int>(decks.size()) - 1;
  const auto reach = [&](int d) {
    return calendar.reach_m.empty()
               ? 2.3
               : calendar.reach_m[std::min(calendar.reach_m.size() - 1, static_cast<std::size_t>(d))];
  };
  for (Atom& atom : atoms) {
    const int natural = static_cast<int>(deck_of(decks, atom.middle_m));
    atom.deck_low = atom.deck_high = natural;
    const auto reaches = [&](int d) {
      const auto level = decks[static_cast<std::size_t>(d)];
      return (d == 0 || atom.low_m >= level - kReachDown) && (d == last || atom.high_m <= level + reach(d));
    };
    while (atom.deck_low > 0 && reaches(atom.deck_low - 1)) --atom.deck_low;
    while (atom.deck_high < last && reaches(atom.deck_high + 1)) ++atom.deck_high;
  }
}

}  // namespace

Atoms grow_atoms(const ProposalGround& ground, const ProposalInput& input, const ProposalSettings& settings) {
  Atoms atoms;
  atoms.of_cell.assign(ground.free.size(), kNoAtom);
  Growth growth(ground, atoms.of_cell);
  std::uint32_t count = seed_zones(ground, growth);
  count = seed_squares(ground, settings, count, growth);
  growth.run();
  for (std::size_t k = 0; k < ground.free.size(); ++k)  // corners that no seed's growth comes to
    if (ground.free[k] && !growth.taken(k)) growth.seed(k, count++), growth.run();
  atoms.graph.atoms.resize(count);
  gather_atoms(ground, atoms.of_cell, atoms.graph.atoms);
  atoms.graph.borders = borders_of(ground, atoms.of_cell, std::clamp(settings.contours, 0.0, 1.0));
  atoms.decks = decks_of(input, atoms.graph.atoms);
  if (count > 0) set_decks(atoms.graph.atoms, atoms.decks, input.calendar);
  return atoms;
}

}  // namespace pontata
