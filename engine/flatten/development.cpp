#include "engine/flatten/development.h"

#include <algorithm>
#include <cmath>

#include "engine/flatten/patch_points.h"

namespace pontata {
namespace {

bool before(const Vec3& a, const Vec3& b) { return a.x != b.x ? a.x < b.x : a.y != b.y ? a.y < b.y : a.z < b.z; }

// Angle from chord p-q to chord q-r about the normal; exactly negated when walked the other way.
double turning(const Vec3& p, const Vec3& q, const Vec3& r, const Vec3& normal) {
  const Vec3 a = q - p, b = r - q;
  const double up_a = glm::dot(a, normal), up_b = glm::dot(b, normal);
  return std::atan2(glm::dot(glm::cross(a, b), normal), glm::dot(a, b) - up_a * up_b);
}

Vec3 normal_near(const ChartedWall& wall, ChartPoint at) {
  const std::uint32_t t = triangle_near(*wall.chart, to_lattice(at));
  return normal(wall.mesh(), {t, wall.chart->weights(t, at)});
}

// Of the wall at the beginning of a rim step; beside an arris that of the step's left side.
Vec3 rim_normal(const ChartedWall& wall, LatticePoint from, LatticePoint to) {
  constexpr double kAside = 5e-4;    // chart m
  constexpr double kSmooth = 0.995;  // cosine: some 6 degrees
  const Vec2 a = to_vec(to_chart(from)), d = to_vec(to_chart(to)) - a;
  const Vec3 here = normal_near(wall, to_chart(from));
  const double size = glm::length(d);
  if (!(size > 0)) return here;
  const Vec2 middle = a + 0.5 * d, aside = Vec2{-d.y, d.x} * (kAside / size);
  const Vec3 left = normal_near(wall, to_chart(middle + aside)), right = normal_near(wall, to_chart(middle - aside));
  return glm::dot(left, right) > kSmooth ? here : left;
}

// One rim's positions, which of them are lips' or breaks.
class Rim {
 public:
  Rim(const ChartedWall& wall, const Patch& patch, std::uint32_t rim, std::vector<bool> breaks)
      : wall_(wall), patch_(patch), rim_(rim), size_(patch.rims[rim].size()), breaks_(std::move(breaks)) {
    breaks_.resize(size_, false);
    lips_.assign(size_, false);
    for (const SlitPlace& s : patch.slits) {
      if (s.rim != rim) continue;
      for (std::size_t i = s.left; i != s.right; i = (i + 1) % size_) lips_[i] = true;
      breaks_[s.left] = breaks_[s.right] = true;
    }
  }

  void add_runs(RimRuns& out) const {
    const auto first = static_cast<std::size_t>(std::find(breaks_.begin(), breaks_.end(), true) - breaks_.begin());
    if (first == size_) {
      add_closed(out);
      return;
    }
    for (std::size_t k = 0; k < size_;) {
      const std::size_t i = (first + k) % size_;
      std::size_t steps = 1;
      while (!breaks_[(i + steps) % size_]) ++steps;
      if (!lips_[i]) out.runs.push_back({rim_, static_cast<std::uint32_t>(i), shape(i, steps)});
      k += steps;
    }
  }

 private:
  // The development of `steps` steps from position i.
  std::vector<Vec2> shape(std::size_t i, std::size_t steps) const {
    std::vector<Vec3> points, normals;
    std::vector<double> lengths;
    for (std::size_t k = 0; k <= steps; ++k) {
      const std::size_t at = (i + k) % size_;
      points.push_back(patch_.points[patch_.rims[rim_][at]]);
      const auto& [from, to] = patch_.rim_steps[rim_][at];
      normals.push_back(k == steps ? normals.back() : rim_normal(wall_, from, to));
      if (k < steps) lengths.push_back(patch_.rim_lengths[rim_][at]);
    }
    return develop(points, normals, lengths);
  }

  // A development that all but closes is closed by an even share at each step; begun at the least point, it is the same
  // from either side.
  void add_closed(RimRuns& out) const {
    constexpr double kCloses = 5e-4;  // m
    const auto& rim = patch_.rims[rim_];
    std::size_t first = 0;
    for (std::size_t i = 1; i < size_; ++i)
      if (before(patch_.points[rim[i]], patch_.points[rim[first]])) first = i;
    std::vector<Vec2> round = shape(first, size_);
    const Vec2 gap = round.back() - round.front();
    if (glm::length(gap) > kCloses) {
      out.open.push_back(rim_);
      return;
    }
    for (std::size_t k = 0; k < round.size(); ++k)
      round[k] -= gap * (static_cast<double>(k) / static_cast<double>(size_));
    round.pop_back();
    out.runs.push_back({rim_, static_cast<std::uint32_t>(first), std::move(round)});
  }

  const ChartedWall& wall_;
  const Patch& patch_;
  std::uint32_t rim_;
  std::size_t size_;
  std::vector<bool> breaks_, lips_;  // lips_: the step from there on is a lip's
};

}  // namespace

std::vector<Vec2> develop(std::span<const Vec3> points, std::span<const Vec3> normals,
                          std::span<const double> lengths) {
  const std::size_t n = points.size();
  if (n < 2) return std::vector<Vec2>(n, Vec2{0, 0});
  const bool turned = before(points[n - 1], points[0]);
  const auto at = [&](std::size_t k) { return turned ? n - 1 - k : k; };
  std::vector<Vec2> out{{0, 0}};
  double direction = 0;
  for (std::size_t k = 0; k + 1 < n; ++k) {
    if (k > 0) direction += turning(points[at(k - 1)], points[at(k)], points[at(k + 1)], normals[at(k)]);
    const double step = lengths[turned ? n - 2 - k : k];
    out.push_back(out.back() + step * Vec2{std::cos(direction), std::sin(direction)});
  }
  if (turned) std::reverse(out.begin(), out.end());
  return out;
}

RimRuns developed_rims(const ChartedWall& wall, const Patch& patch, const std::vector<std::vector<bool>>& breaks) {
  RimRuns out;
  for (std::uint32_t r = 0; r < patch.rims.size(); ++r)
    Rim(wall, patch, r, r < breaks.size() ? breaks[r] : std::vector<bool>{}).add_runs(out);
  return out;
}

}  // namespace pontata
