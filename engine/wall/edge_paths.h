// Shortest ways along the edges of a sheet.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/wall/surface_mesh.h"

namespace pontata {

struct SheetEdge {
  std::uint32_t a, b, left,
      right;      // points, and the triangles on both sides; lids over the rims are numbered after them
  double length;  // m, or any cost above zero
};
std::vector<SheetEdge> sheet_edges(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles,
                                   const std::vector<std::vector<std::uint32_t>>& rims);

// Shortest ways from the roots to every point; `parent` is kNoNeighbour at a root and where no way leads.
// Dijkstra, "A note on two problems in connexion with graphs", 1959. O(n log n).
struct PathTree {
  std::vector<double> far;
  std::vector<std::uint32_t> parent;
};
PathTree shortest_paths(std::size_t point_count, const std::vector<SheetEdge>& edges,
                        const std::vector<std::uint32_t>& roots);

// From a up to the first common ancestor and down to b.
std::vector<std::uint32_t> path_through(const PathTree& tree, std::uint32_t a, std::uint32_t b);

}  // namespace pontata
