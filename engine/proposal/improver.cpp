#include "engine/proposal/improver.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pontata {

namespace {

constexpr double kHour = 6;     // mean borders that an hour too much costs at first
constexpr double kStrict = 12;  // times that at the end, and once more
// A little before it is full a group begins to pass on, so that room at one end is felt at the other.
constexpr double kNearlyFull = 0.85, kPass = 2;
constexpr int kSettling = 40;  // rounds at most

}  // namespace

Improver::Improver(Grouping& grouping, const GatherOptions& options, Progress* progress)
    : g_(grouping), options_(options), progress_(progress), chance_(options.seed) {
  double sum = 0;
  for (const AtomBorder& b : g_.graph().borders) sum += b.cost;
  if (!g_.graph().borders.empty()) mean_cost_ = sum / static_cast<double>(g_.graph().borders.size());
}

void Improver::run(int rounds, double heat) {
  for (int round = 0; round < rounds && !is_cancelled(progress_); ++round) {
    const double left = 1 - static_cast<double>(round + 1) / rounds;
    warmth_ = heat * mean_cost_ * left * left;
    over_ = kHour * mean_cost_ * (1 + kStrict * (1 - left));
    pass_ = kPass * left;
    for (std::size_t k = 0; k < g_.atoms(); ++k) try_move(any_atom());
  }
}

void Improver::settle() {
  warmth_ = pass_ = 0;
  for (int round = 0; round < kSettling; ++round) {
    bool moved = false;
    for (std::uint32_t a = 0; a < g_.atoms(); ++a) moved |= try_move(a);
    if (!moved || is_cancelled(progress_)) return;
  }
}

double Improver::penalty(double load) const {
  const double over = std::max(0.0, load - options_.hours);
  const double near = std::max(0.0, load - kNearlyFull * options_.hours);
  return over_ * (over + 2 * over * over / options_.hours + pass_ * near * near / options_.hours);
}

bool Improver::try_move(std::uint32_t a) {
  const std::uint32_t from = g_.group(a);
  std::uint32_t to = kNoAtom;
  double gain = -std::numeric_limits<double>::infinity();
  double stays = -1, from_now = 0, from_then = 0;  // worked out for the few atoms that lie on a border
  for (const AtomLink& link : g_.links(a)) {
    const std::uint32_t other = g_.group(link.to);
    if (other == from || other == to || !g_.may_take(other, a)) continue;
    if (stays < 0) {
      stays = g_.cost_to(a, from);
      from_now = penalty(g_.load(from)), from_then = penalty(g_.load(from) - g_.hours(a));
    }
    const double now = from_now + penalty(g_.load(other));
    const double then = from_then + penalty(g_.load(other) + g_.hours(a));
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

}  // namespace pontata
