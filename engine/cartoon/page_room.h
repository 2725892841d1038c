// Room on a pattern: what is written there must not lie on what is written already.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>
#include <vector>

#include "engine/base/vec.h"

namespace pontata {

struct Disc {
  Vec2 centre{0, 0};  // mm on the pattern
  double radius = 0;  // mm
};

// Rough place of a line of words, as discs along it; DejaVu Sans is about 0.6 em wide.
inline std::vector<Disc> discs_of(std::string_view words, Vec2 centre, double size_mm, double angle_deg) {
  const double letters = static_cast<double>(
      std::count_if(words.begin(), words.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
  const double half = 0.3 * letters * size_mm, radius = 0.6 * size_mm;
  const double a = angle_deg * std::numbers::pi / 180;
  const Vec2 along{std::cos(a), std::sin(a)};
  std::vector<Disc> out;
  const int n = std::max(1, static_cast<int>(std::ceil(half / radius)));
  for (int i = -n; i <= n; ++i) out.push_back({centre + along * (half * i / n), radius});
  return out;
}

class PageRoom {
 public:
  bool free(const std::vector<Disc>& wanted) const {
    for (const Disc& w : wanted)
      for (const Disc& t : taken_)
        if (glm::distance(w.centre, t.centre) < w.radius + t.radius) return false;
    return true;
  }
  void take(const std::vector<Disc>& discs) { taken_.insert(taken_.end(), discs.begin(), discs.end()); }
  // Takes it where it is free.
  bool claim(const std::vector<Disc>& wanted) {
    if (!free(wanted)) return false;
    take(wanted);
    return true;
  }

 private:
  std::vector<Disc> taken_;
};

}  // namespace pontata
