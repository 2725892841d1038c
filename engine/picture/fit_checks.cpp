#include "engine/picture/fit_checks.h"

#include <algorithm>
#include <cmath>

namespace pontata {

bool beyond_chance(std::span<const double> plain, std::span<const double> fine) {
  const auto n = static_cast<double>(plain.size());
  if (plain.size() < 2) return false;
  double gain = 0, before = 0;
  for (std::size_t i = 0; i < plain.size(); ++i) {
    gain += (plain[i] - fine[i]) / n;
    before += plain[i] / n;
  }
  double spread = 0;
  for (std::size_t i = 0; i < plain.size(); ++i) spread += (plain[i] - fine[i] - gain) * (plain[i] - fine[i] - gain);
  const double error = std::sqrt(spread / (n - 1) / n);
  return gain > error && std::sqrt(before) - std::sqrt(std::max(0.0, before - gain)) > kMarking;
}

double tail_of_f2(double f, int spare) { return std::pow(1 + 2 * f / spare, -0.5 * spare); }

std::optional<std::size_t> odd_one_out(const Misfit& all, std::span<const std::optional<Misfit>> alike,
                                       std::span<const std::optional<Misfit>> without) {
  constexpr double kNearlyAsWell = 2;
  std::optional<std::size_t> odd;
  double least = kFalseAlarm / static_cast<double>(without.size());
  for (std::size_t i = 0; i < without.size(); ++i) {
    if (!without[i] || !alike[i] || without[i]->spare < 1) continue;
    const double variance = std::max(without[i]->sum / without[i]->spare, kMarkingNoise * kMarkingNoise);
    if (all.sum < kNearlyAsWell * variance * without[i]->spare) continue;
    const double f = std::max(0.0, alike[i]->sum - without[i]->sum) / 2 / variance;
    const double chance = tail_of_f2(f, without[i]->spare);
    if (chance >= least) continue;
    least = chance;
    odd = i;
  }
  return odd;
}

double breadth(std::span<const Vec2> points) {
  Vec2 middle(0, 0);
  for (const auto& p : points) middle += p / static_cast<double>(points.size());
  double xx = 0, xy = 0, yy = 0;
  for (const auto& p : points) {
    const Vec2 d = p - middle;
    xx += d.x * d.x;
    xy += d.x * d.y;
    yy += d.y * d.y;
  }
  const double half = 0.5 * (xx + yy), off = std::hypot(0.5 * (xx - yy), xy);
  return half + off > 0 ? std::sqrt(std::max(0.0, half - off) / (half + off)) : 0;
}

double outline_area(std::span<const Vec2> points) {
  std::vector<Vec2> sorted(points.begin(), points.end());
  std::sort(sorted.begin(), sorted.end(),
            [](const Vec2& a, const Vec2& b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
  // Andrew's monotone chain, 1979: lower side, then upper side.
  std::vector<Vec2> hull;
  for (int side = 0; side < 2; ++side) {
    const auto start = hull.size();
    for (const auto& p : sorted) {
      while (hull.size() >= start + 2 && cross2(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0)
        hull.pop_back();
      hull.push_back(p);
    }
    if (!hull.empty()) hull.pop_back();
    std::reverse(sorted.begin(), sorted.end());
  }
  double twice = 0;
  for (std::size_t k = 0; k < hull.size(); ++k) twice += cross2(hull[k], hull[(k + 1) % hull.size()]);
  return 0.5 * std::abs(twice);
}

std::string part_of_picture(PictureSize picture, std::span<const Vec2> pixels) {
  bool left = true, right = true, upper = true, lower = true;
  for (const auto& p : pixels) {
    left = left && 2 * p.x < picture.width;
    right = right && 2 * p.x > picture.width;
    upper = upper && 2 * p.y < picture.height;
    lower = lower && 2 * p.y > picture.height;
  }
  const std::string across = left ? "left" : right ? "right" : "", along = upper ? "upper" : lower ? "lower" : "";
  if (across.empty() && along.empty()) return "";
  if (!across.empty() && !along.empty()) return "the " + along + " " + across;
  return "the " + along + across + " half";
}

}  // namespace pontata
