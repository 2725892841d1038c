// The triangles of a patch in the chart: rims fixed, inside points set at the wall's own spacing.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/flatten/rim.h"
#include "engine/flatten/triangulation.h"

namespace pontata {

// Triangle of the wall that holds p; the nearest one when rounding put p outside the border.
std::uint32_t triangle_near(const Chart& chart, LatticePoint p);
Vec3 position_near(const ChartedWall& wall, LatticePoint p);

// The wall's average first fundamental form inside the rims; its plane has the wall's lengths on average.
Shear average_shear(const ChartedWall& wall, const std::vector<DenseRim>& rims);

struct RegionTriangles {
  Triangulation triangulation;
  std::vector<std::vector<std::uint32_t>> rims;  // triangulation points
};
// nullopt when rims cross each other.
std::optional<RegionTriangles> triangulate_rims(const std::vector<DenseRim>& rims, const Shear& shear);

// Points on a staggered grid `spacing` apart (surface metres) inside the region, kept clear of the rims; then the
// middle of every inside edge longer than 1.7 spacings, as long as there are fewer than `limit` points; then edges
// flipped so that the triangles are well shaped on the surface.
void fill_region(RegionTriangles& region, const ChartedWall& wall, const Shear& shear, double spacing,
                 std::size_t limit);

}  // namespace pontata
