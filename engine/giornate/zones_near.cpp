#include "engine/giornate/zones_near.h"

#include <algorithm>
#include <set>

namespace pontata {

namespace {

void add_near(const Network& network, const Ring& ring, std::set<GiornataId>& found) {
  if (ring.empty()) return;
  LatticePoint low = ring.front(), high = ring.front();
  for (const LatticePoint& p : ring) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  for (const SeamId s : network.seams_near(low, high))
    for (const std::uint32_t side : {0u, 1u})
      found.insert(network.face(network.half_edge({(s.value << 1) | side}).face).owner);
  found.insert(network.owner_at(low));  // no seam in the box: all of it lies in one face
}

}  // namespace

std::vector<GiornataId> giornate_near(const Network& network, std::span<const Zone> zones) {
  std::set<GiornataId> found;
  for (const Zone& zone : zones)
    for (const Ring& ring : zone.rings()) add_near(network, ring, found);
  found.erase(GiornataId{});
  return {found.begin(), found.end()};
}

}  // namespace pontata
