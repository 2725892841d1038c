// Shares out the levelling coat's volume over the faces of the seam network.
#include <algorithm>
#include <array>
#include <map>

#include "engine/giornate/shares.h"
#include "engine/plaster/levelling.h"

namespace pontata {

namespace {

struct Gathered {
  long double area = 0, volume = 0, depth = 0;  // depth: integral over the area
  double greatest = 0;

  LevelShare share(GiornataId id) const {
    LevelShare out{.id = id, .area_m2 = static_cast<double>(area), .volume_m3 = static_cast<double>(volume)};
    out.mean_m = area > 0 ? static_cast<double>(depth / area) : 0;
    out.greatest_m = greatest;
    return out;
  }
};

void add_face(const ChartedWall& wall, const LevelCoat& coat, const std::vector<Ring>& rings, Gathered& sum) {
  visit_shares(wall, rings, [&](std::uint32_t t, long double share) {
    const Triangle& c = wall.mesh().triangles[t];
    const std::array<double, 3> d{coat.depth_m[c[0]], coat.depth_m[c[1]], coat.depth_m[c[2]]};
    const long double area = share * static_cast<long double>(wall.metric->triangle_terms(t).x);
    const double mean = (d[0] + d[1] + d[2]) / 3;
    sum.area += area;
    sum.volume += share * static_cast<long double>(coat.volume_m3[t]);
    sum.depth += area * mean;
    // A triangle that a seam cuts counts by its middle: its deepest corner may lie on the other side.
    sum.greatest = std::max(sum.greatest, share > 1 - 1e-9L ? std::max({d[0], d[1], d[2]}) : mean);
  });
}

}  // namespace

LevelShares level_shares(const ChartedWall& wall, const LevelCoat& coat, const Network& network,
                         std::span<const Giornata> giornate) {
  std::map<GiornataId, Gathered> sums;
  for (const Giornata& g : giornate)
    if (g.alive && !network.faces_of(g.id).empty()) sums[g.id];
  Gathered rest;
  for (const FaceId f : network.faces()) {
    const auto own = sums.find(network.face(f).owner);
    add_face(wall, coat, network.rings(f), own == sums.end() ? rest : own->second);
  }
  LevelShares out;
  long double all = rest.volume;
  for (const auto& [id, sum] : sums) {
    out.giornate.push_back(sum.share(id));
    all += sum.volume;
  }
  out.rest = rest.share({});
  out.residual_m3 = static_cast<double>(all - static_cast<long double>(coat.total_m3));
  for (const HighSpot& spot : coat.high_spots) out.spot_of.push_back(network.owner_at(to_lattice(spot.place)));
  return out;
}

}  // namespace pontata
