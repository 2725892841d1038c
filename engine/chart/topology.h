// How triangles hang together: neighbours across edges and border loops.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "engine/wall/surface_mesh.h"

namespace pontata {

inline constexpr std::uint32_t kNoNeighbour = 0xffffffffu;

struct Topology {
  std::vector<Triangle> across;                   // triangle across edge k (corner k to k + 1), or kNoNeighbour
  std::vector<std::vector<std::uint32_t>> loops;  // border loops as points, the surface on their left
};

// Why triangles do not form one sheet, and a point where it shows.
enum class TopologyFault { bad_index, edge_shared_wrongly, touching_sheets, closed };
struct TopologyFailure {
  TopologyFault fault;
  std::uint32_t point = 0;
};

// O(n). Fails on indices out of range or repeated within a triangle, on an edge used by more than two triangles or
// twice in the same direction (this covers a triangle listed twice and a flipped one), on points where sheets touch
// without sharing an edge, and on surfaces without a border.
std::optional<TopologyFailure> build_topology(const std::vector<Triangle>& triangles, std::size_t points,
                                              Topology& out);

}  // namespace pontata
