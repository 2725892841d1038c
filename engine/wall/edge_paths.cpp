#include "engine/wall/edge_paths.h"

#include <functional>
#include <numeric>
#include <queue>
#include <set>

#include "engine/wall/scan_topology.h"

namespace pontata {

std::vector<SheetEdge> sheet_edges(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles,
                                   const std::vector<std::vector<std::uint32_t>>& rims) {
  const auto across = link_triangles(points, triangles);
  std::vector<std::uint32_t> lid(points.size(), 0);
  for (std::uint32_t r = 0; r < rims.size(); ++r)
    for (const auto p : rims[r]) lid[p] = static_cast<std::uint32_t>(triangles.size()) + r;
  std::vector<SheetEdge> edges;
  for (std::uint32_t t = 0; t < triangles.size(); ++t)
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t n = across[t][k], a = triangles[t][k], b = triangles[t][(k + 1) % 3];
      if (n == kNoNeighbour || t < n)
        edges.push_back({a, b, t, n == kNoNeighbour ? lid[a] : n, glm::length(points[b] - points[a])});
    }
  return edges;
}

PathTree shortest_paths(std::size_t point_count, const std::vector<SheetEdge>& edges,
                        const std::vector<std::uint32_t>& roots) {
  std::vector<std::size_t> start(point_count + 1, 0);
  for (const SheetEdge& e : edges) ++start[e.a + 1], ++start[e.b + 1];
  std::partial_sum(start.begin(), start.end(), start.begin());
  std::vector<std::uint32_t> at_point(start.back());
  auto next = start;
  for (std::uint32_t i = 0; i < edges.size(); ++i) at_point[next[edges[i].a]++] = i, at_point[next[edges[i].b]++] = i;
  PathTree tree{std::vector<double>(point_count, 1e300), std::vector<std::uint32_t>(point_count, kNoNeighbour)};
  using Item = std::pair<double, std::uint32_t>;
  std::priority_queue<Item, std::vector<Item>, std::greater<>> queue;
  for (const auto root : roots) queue.emplace(tree.far[root] = 0, root);
  while (!queue.empty()) {
    const auto [d, p] = queue.top();
    queue.pop();
    if (d > tree.far[p]) continue;
    for (std::size_t i = start[p]; i < start[p + 1]; ++i) {
      const SheetEdge& e = edges[at_point[i]];
      const std::uint32_t q = e.a == p ? e.b : e.a;
      if (d + e.length >= tree.far[q]) continue;
      tree.parent[q] = p;
      queue.emplace(tree.far[q] = d + e.length, q);
    }
  }
  return tree;
}

std::vector<std::uint32_t> path_through(const PathTree& tree, std::uint32_t a, std::uint32_t b) {
  std::vector<std::uint32_t> up{a}, down{b};
  const auto climb = [&](std::vector<std::uint32_t>& way) { way.push_back(tree.parent[way.back()]); };
  std::set<std::uint32_t> seen{a};
  for (std::uint32_t p = a; tree.parent[p] != kNoNeighbour; seen.insert(p)) p = tree.parent[p];
  while (!seen.contains(down.back())) climb(down);
  while (up.back() != down.back()) climb(up);
  down.pop_back();
  up.insert(up.end(), down.rbegin(), down.rend());
  return up;
}

}  // namespace pontata
