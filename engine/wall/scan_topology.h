// From loose triangles to one oriented sheet whose borders are simple loops.
#pragma once

#include <vector>

#include "engine/wall/scan_parts.h"
#include "engine/wall/scan_soup.h"

namespace pontata {

inline constexpr std::uint32_t kNoNeighbour = 0xffffffffu;

// Triangle across edge k (corner k to corner k+1), kNoNeighbour at the border. Where more than two triangles meet at an
// edge, the flattest pairs are neighbours and the rest end there. O(n log n).
std::vector<Triangle> link_triangles(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles);

struct SheetReport {
  std::size_t crowded_edges = 0;   // edges shared by more than two triangles
  std::size_t flipped = 0;         // triangles of the kept part whose winding was turned round
  std::size_t parts_left_out = 0;  // separate parts other than the largest
  double area_left_out_m2 = 0;
  std::size_t dropped = 0;       // triangles of the kept part that no sheet could hold
  bool one_sided = false;        // the part had to be cut to have two sides (a twisted band)
  std::vector<FoundPart> parts;  // all of them, the kept one among them, largest first
};

// Keeps the part with the largest area, or the one nearest to `part_at`, all its triangles turned the same way with the
// painted side counter-clockwise (by the sum of `facing`), every point in one fan of triangles only.
SheetReport make_sheet(Soup& soup, const std::optional<Vec3>& part_at = {});

// Gives every fan of linked triangles at a point a point of its own; unlinked edges come apart. All triangles are
// turned the same way.
void split_fans(Soup& soup, const std::vector<Triangle>& across);

// Border loops of a sheet as points, each in the direction of its triangles' edges, longest first.
std::vector<std::vector<std::uint32_t>> border_loops(const std::vector<Vec3>& points,
                                                     const std::vector<Triangle>& triangles,
                                                     const std::vector<Triangle>& across);
double loop_length(const std::vector<Vec3>& points, const std::vector<std::uint32_t>& loop);  // m

}  // namespace pontata
