// The connected parts of a scan, so that the painter can say which is the wall.
#pragma once

#include <optional>
#include <vector>

#include "engine/wall/scan_soup.h"

namespace pontata {

struct FoundPart {
  std::uint32_t part = 0;  // as numbered in `part_of`
  double area_m2 = 0;
  Vec3 at{0, 0, 0};  // on its surface, near its middle; building frame
};

// Largest first. `part_of` numbers every triangle's part, 0 to count - 1.
std::vector<FoundPart> weigh_parts(const Soup& soup, const std::vector<std::uint32_t>& part_of, std::uint32_t count);

// The triangle nearest to a place in the building. O(n log n). Precondition: there are triangles.
std::uint32_t triangle_nearest(const Soup& soup, const Vec3& place);

}  // namespace pontata
