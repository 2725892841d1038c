#include "engine/plaster/point_graph.h"

#include <algorithm>

#include "engine/base/roots.h"

namespace pontata {

namespace {

// By mesh point the first of those that are one place of the surface.
std::vector<std::uint32_t> joined_points(const Chart& chart) {
  std::vector<std::uint32_t> parent(chart.mesh().points.size());
  for (std::uint32_t p = 0; p < parent.size(); ++p) parent[p] = p;
  if (!chart.has_cuts()) return parent;
  const auto join = [&](std::uint32_t a, std::uint32_t b) {
    a = root_of(parent, a), b = root_of(parent, b);
    parent[std::max(a, b)] = std::min(a, b);
  };
  const auto& edges = chart.border_edges();
  const auto corner = [&](const Chart::BorderEdge& e, int step) {
    return chart.mesh().triangles[e.triangle][static_cast<std::size_t>((e.side + step) % 3)];
  };
  for (std::uint32_t e = 0; e < edges.size(); ++e) {
    const std::uint32_t other = chart.across_cut(e);
    if (other == Chart::kNoTriangle) continue;
    join(corner(edges[e], 0), corner(edges[other], 1));
    join(corner(edges[e], 1), corner(edges[other], 0));
  }
  for (std::uint32_t p = 0; p < parent.size(); ++p) parent[p] = root_of(parent, p);
  return parent;
}

void list_neighbours(const std::vector<Triangle>& triangles, PointGraph& graph) {
  graph.first.assign(graph.size() + 1, 0);
  for (const Triangle& t : triangles)
    for (const auto corner : t) graph.first[graph.slot[corner] + 1] += 2;
  for (std::size_t i = 1; i < graph.first.size(); ++i) graph.first[i] += graph.first[i - 1];
  graph.beside.resize(graph.first.back());
  std::vector<std::uint32_t> next(graph.first.begin(), graph.first.end() - 1);
  for (const Triangle& t : triangles)
    for (std::size_t k = 0; k < 3; ++k)
      for (const std::size_t other : {(k + 1) % 3, (k + 2) % 3})
        graph.beside[next[graph.slot[t[k]]]++] = graph.slot[t[other]];
}

}  // namespace

PointGraph point_graph(const ChartedWall& wall) {
  const SurfaceMesh& mesh = wall.mesh();
  PointGraph graph;
  const auto joined = joined_points(*wall.chart);
  graph.slot.resize(joined.size());
  for (std::uint32_t p = 0; p < joined.size(); ++p) {
    if (joined[p] != p) {
      graph.slot[p] = graph.slot[joined[p]];
      continue;
    }
    graph.slot[p] = static_cast<std::uint32_t>(graph.places.size());
    graph.places.push_back(mesh.points[p]);
  }
  graph.normals.assign(graph.size(), Vec3{0, 0, 0});
  graph.area.assign(graph.size(), 0);
  for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
    const double third = std::max(0.0, wall.metric->triangle_terms(t).x) / 3;
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t i = graph.slot[mesh.triangles[t][k]];
      graph.area[i] += third;
      graph.normals[i] += mesh.normals[mesh.corner_normals[t][k]];
    }
  }
  for (Vec3& n : graph.normals) {
    const double length = glm::length(n);
    n = length > 0 ? n / length : Vec3{0, 0, 1};
  }
  list_neighbours(mesh.triangles, graph);
  return graph;
}

}  // namespace pontata
