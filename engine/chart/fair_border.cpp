#include "engine/chart/fair_border.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace pontata {

namespace {

constexpr double kReach = 0.045;         // m on either side
constexpr double kCornerCosine = 0.866;  // of 30 degrees
constexpr std::ptrdiff_t kLeastPoints = 4;

class Loop {
 public:
  Loop(const SurfaceMesh& mesh, const std::vector<std::uint32_t>& points) {
    for (const auto p : points) places_.push_back(mesh.points[p]);
    find_corners();
  }

  // m along the edge from point i to the next.
  double edge(std::ptrdiff_t i) const {
    std::ptrdiff_t low = i, high = i + 1;
    for (double far = 0; !corner_at(low) && high - low < size(); --low)
      if ((far += length(low - 1)) > kReach) break;
    for (double far = 0; !corner_at(high) && high - low < size(); ++high)
      if ((far += length(high)) > kReach) break;
    if (high - low + 1 < kLeastPoints) return length(i);
    return std::min(length(i), std::abs(glm::dot(at(i + 1) - at(i), direction(low, high))));
  }

 private:
  std::ptrdiff_t size() const { return static_cast<std::ptrdiff_t>(places_.size()); }
  std::size_t index(std::ptrdiff_t i) const { return static_cast<std::size_t>((i % size() + size()) % size()); }
  const Vec3& at(std::ptrdiff_t i) const { return places_[index(i)]; }
  double length(std::ptrdiff_t i) const { return glm::length(at(i + 1) - at(i)); }
  bool corner_at(std::ptrdiff_t i) const { return corner_[index(i)]; }

  // Slope over the arc of the least-squares line through points low to high.
  Vec3 direction(std::ptrdiff_t low, std::ptrdiff_t high) const {
    double arc = 0, sum = 0, squares = 0;
    Vec3 places{0, 0, 0}, moments{0, 0, 0};
    for (std::ptrdiff_t i = low; i <= high; arc += length(i), ++i) {
      const Vec3 p = at(i) - at(low);
      sum += arc, squares += arc * arc, places += p, moments += arc * p;
    }
    const double n = static_cast<double>(high - low + 1);
    const Vec3 slope = n * moments - sum * places;
    const double size = glm::length(slope);
    return size > 0 ? slope / size : Vec3{0, 0, 0};
  }

  // Cosine of the turn between the reach before a point and the reach after it.
  double turn(std::ptrdiff_t i) const {
    std::ptrdiff_t low = i, high = i;
    for (double far = 0; far < kReach && i - low < size() / 2; --low) far += length(low - 1);
    for (double far = 0; far < kReach && high - i < size() / 2; ++high) far += length(high);
    const Vec3 before = at(i) - at(low), after = at(high) - at(i);
    const double size = glm::length(before) * glm::length(after);
    return size > 0 ? glm::dot(before, after) / size : 1;
  }

  // The sharpest point within reach of every bend.
  void find_corners() {
    corner_.assign(places_.size(), false);
    std::vector<double> turns;
    for (std::ptrdiff_t i = 0; i < size(); ++i) turns.push_back(turn(i));
    for (std::ptrdiff_t i = 0; i < size(); ++i) {
      if (turns[index(i)] > kCornerCosine) continue;
      bool sharpest = true;
      const auto yields = [&](std::ptrdiff_t j) {
        const double own = turns[index(i)], other = turns[index(j)];
        return other < own || (other == own && index(j) < index(i));
      };
      double far = 0;
      for (std::ptrdiff_t j = i + 1; sharpest && j < i + size() && (far += length(j - 1)) <= kReach; ++j)
        sharpest = !yields(j);
      far = 0;
      for (std::ptrdiff_t j = i - 1; sharpest && j > i - size() && (far += length(j)) <= kReach; --j)
        sharpest = !yields(j);
      corner_[index(i)] = sharpest;
    }
  }

  std::vector<Vec3> places_;
  std::vector<bool> corner_;
};

}  // namespace

std::vector<double> fair_border_lengths(const Chart& chart) {
  std::vector<double> lengths;
  lengths.reserve(chart.border_edges().size());
  for (const auto& points : chart.border_loops()) {
    const Loop loop(chart.mesh(), points);
    for (std::ptrdiff_t i = 0; i < static_cast<std::ptrdiff_t>(points.size()); ++i) lengths.push_back(loop.edge(i));
  }
  return lengths;
}

}  // namespace pontata
