// Lines by the length along them, and how far a point is from closed ones.
#pragma once

#include <algorithm>
#include <span>
#include <vector>

#include "engine/base/vec.h"

namespace pontata {

class LineWalk {
 public:
  // Keeps a reference; at least two points.
  explicit LineWalk(const std::vector<Vec2>& line) : line_(line) {
    for (std::size_t i = 1; i < line.size(); ++i) at_.push_back(at_.back() + glm::distance(line[i - 1], line[i]));
  }
  double length() const { return at_.back(); }
  // How far along the i-th point is.
  double at(std::size_t i) const { return at_[i]; }
  Vec2 point(double s) const {
    s = std::clamp(s, 0.0, length());
    const auto i = std::clamp<std::size_t>(
        static_cast<std::size_t>(std::lower_bound(at_.begin(), at_.end(), s) - at_.begin()), 1, line_.size() - 1);
    const double piece = at_[i] - at_[i - 1];
    return line_[i - 1] + (line_[i] - line_[i - 1]) * (piece > 0 ? (s - at_[i - 1]) / piece : 0.0);
  }

 private:
  const std::vector<Vec2>& line_;
  std::vector<double> at_{0};
};

// Distance of a point from the nearest of some closed lines, in their unit; very great where there are none.
// O(points).
inline double distance_to_rims(std::span<const std::vector<Vec2>> rims, Vec2 p) {
  double least = 1e300;
  for (const auto& rim : rims)
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const Vec2 a = rim[i], d = rim[(i + 1) % rim.size()] - a;
      const double share = std::clamp(glm::dot(p - a, d) / std::max(glm::dot(d, d), 1e-300), 0.0, 1.0);
      least = std::min(least, glm::distance(p, a + share * d));
    }
  return least;
}

}  // namespace pontata
