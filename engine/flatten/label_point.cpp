#include "engine/flatten/label_point.h"

#include <cmath>
#include <queue>
#include <utility>

namespace pontata {
namespace {

// Slope of a linear function on a flat triangle from its values at the corners.
Vec2 slope(Vec2 a, Vec2 b, Vec2 c, double fa, double fb, double fc) {
  const Vec2 p = b - a, q = c - a;
  const double det = cross2(p, q);
  if (!(std::abs(det) > 0)) return {0, 0};
  return Vec2{(fb - fa) * q.y - (fc - fa) * p.y, (fc - fa) * p.x - (fb - fa) * q.x} / det;
}

}  // namespace

std::uint32_t label_point(const Patch& patch) {
  const std::size_t n = patch.points.size();
  std::vector<std::vector<std::uint32_t>> near(n);
  for (const Triangle& v : patch.triangles)
    for (std::size_t k = 0; k < 3; ++k) near[v[k]].push_back(v[(k + 1) % 3]), near[v[(k + 1) % 3]].push_back(v[k]);
  using Item = std::pair<double, std::uint32_t>;
  std::priority_queue<Item, std::vector<Item>, std::greater<>> queue;
  std::vector<double> distance(n, 1e300);
  for (const auto& rim : patch.rims)
    for (const std::uint32_t v : rim) distance[v] = 0, queue.emplace(0.0, v);
  std::uint32_t farthest = patch.triangles.empty() ? 0 : patch.triangles.front()[0];
  while (!queue.empty()) {
    const auto [d, v] = queue.top();
    queue.pop();
    if (d > distance[v]) continue;
    if (d > distance[farthest] || (d == distance[farthest] && v < farthest)) farthest = v;
    for (const std::uint32_t w : near[v])
      if (const double e = d + glm::distance(patch.points[v], patch.points[w]); e < distance[w])
        distance[w] = e, queue.emplace(e, w);
  }
  return farthest;
}

UpDirection up_at(const Patch& patch, const std::vector<Vec2>& flat, std::uint32_t point) {
  Vec2 height{0, 0}, chart{0, 0};
  double area = 0;
  for (std::size_t t = 0; t < patch.triangles.size(); ++t) {
    const Triangle& v = patch.triangles[t];
    if (v[0] != point && v[1] != point && v[2] != point) continue;
    const Vec2 a = flat[v[0]], b = flat[v[1]], c = flat[v[2]];
    const double w = cross2(b - a, c - a);
    area += w;
    height += w * slope(a, b, c, patch.points[v[0]].z, patch.points[v[1]].z, patch.points[v[2]].z);
    if (patch.places.size() == patch.points.size())
      chart += w * slope(a, b, c, patch.corner_place(t, 0).v, patch.corner_place(t, 1).v, patch.corner_place(t, 2).v);
  }
  if (!(area > 0)) return {};
  height /= area, chart /= area;
  if (glm::length(height) > 0.2) return {glm::normalize(height), true};
  if (glm::length(chart) > 1e-6) return {glm::normalize(chart), false};
  return {Vec2{0, 1}, false};
}

}  // namespace pontata
