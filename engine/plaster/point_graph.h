// The points of a scanned wall with their neighbours along the surface; where a wall was cut open for its chart, the
// two sides of the cut are one again.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "engine/chart/charted_wall.h"

namespace pontata {

struct PointGraph {
  std::vector<std::uint32_t> slot;    // by mesh point: its place in the tables below; points joined at a cut share one
  std::vector<Vec3> places, normals;  // m, building frame; unit, toward the painter
  std::vector<double> area;           // m^2 of fair surface round the point, its third of every triangle
  std::vector<std::uint32_t> first, beside;  // neighbours of slot i: beside[first[i]] to beside[first[i + 1]]

  std::size_t size() const { return places.size(); }
  std::span<const std::uint32_t> neighbours(std::uint32_t i) const {
    return {beside.data() + first[i], beside.data() + first[i + 1]};
  }
};

// O(n).
PointGraph point_graph(const ChartedWall& wall);

}  // namespace pontata
