// Bridges and tunnels of a sheet, which a scanner's noise makes by the dozen and which no flat layout can hold.
#pragma once

#include "engine/wall/scan_soup.h"

namespace pontata {

// Handles of a sheet with these neighbours and rims (Euler: points - edges + triangles = 2 - 2 handles - rims).
std::size_t count_handles(const std::vector<Triangle>& triangles, const std::vector<Triangle>& across,
                          std::size_t rims);

// Loops along edges, two for every handle, that together go once round and once through each; shortest first.
std::vector<std::vector<std::uint32_t>> handle_loops(const std::vector<Vec3>& points,
                                                     const std::vector<Triangle>& triangles,
                                                     const std::vector<std::vector<std::uint32_t>>& rims);

struct HandleReport {
  std::size_t cut = 0;   // handles opened
  std::size_t left = 0;  // handles too large to be noise
  double longest_m = 0;  // longest cut
};

// Cuts every handle open that a loop no longer than `most` (m) goes round or through; no surface is lost.
HandleReport cut_small_handles(Soup& sheet, double most);

}  // namespace pontata
