#include "engine/plaster/high_spots.h"

#include <algorithm>
#include <array>

namespace pontata {

namespace {

constexpr std::uint32_t kNoSpot = 0xffffffffu;
constexpr double kLeastSpot = 1e-4;  // m^2

// Numbers the connected places below the limit; by slot.
std::vector<std::uint32_t> number_spots(const PointGraph& graph, const std::vector<double>& depth, double limit,
                                        std::uint32_t& count) {
  std::vector<std::uint32_t> spot(graph.size(), kNoSpot), open;
  for (std::uint32_t seed = 0; seed < graph.size(); ++seed) {
    if (spot[seed] != kNoSpot || depth[seed] >= limit) continue;
    spot[seed] = count;
    open.assign(1, seed);
    while (!open.empty()) {
      const std::uint32_t i = open.back();
      open.pop_back();
      for (const auto j : graph.neighbours(i))
        if (spot[j] == kNoSpot && depth[j] < limit) spot[j] = count, open.push_back(j);
    }
    ++count;
  }
  return spot;
}

}  // namespace

double share_below(const Vec3& at_corners, double limit) {
  std::array<double, 3> h{at_corners.x - limit, at_corners.y - limit, at_corners.z - limit};
  std::sort(h.begin(), h.end());
  if (h[0] >= 0) return 0;
  if (h[2] < 0) return 1;
  if (h[1] >= 0) return h[0] / (h[0] - h[1]) * (h[0] / (h[0] - h[2]));
  return 1 - h[2] / (h[2] - h[0]) * (h[2] / (h[2] - h[1]));
}

std::vector<HighSpot> find_high_spots(const ChartedWall& wall, const PointGraph& graph,
                                      const std::vector<double>& depth, double least) {
  const double limit = least - kHighSpotFrom;
  std::uint32_t count = 0;
  const auto spot = number_spots(graph, depth, limit, count);
  std::vector<HighSpot> spots(count);
  const SurfaceMesh& mesh = wall.mesh();
  for (std::uint32_t p = 0; p < graph.slot.size(); ++p) {
    const auto i = graph.slot[p];
    if (spot[i] == kNoSpot || least - depth[i] <= spots[spot[i]].height_m) continue;
    HighSpot& s = spots[spot[i]];
    s.height_m = least - depth[i];
    s.through = depth[i] < 0;
    s.at = mesh.points[p];
    s.place = to_chart(wall.chart->places()[p]);
  }
  for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto& c = mesh.triangles[t];
    const std::array<std::uint32_t, 3> i{graph.slot[c[0]], graph.slot[c[1]], graph.slot[c[2]]};
    const std::uint32_t own = std::min({spot[i[0]], spot[i[1]], spot[i[2]]});  // corners below the limit hang together
    if (own != kNoSpot)
      spots[own].area_m2 +=
          wall.metric->triangle_terms(t).x * share_below({depth[i[0]], depth[i[1]], depth[i[2]]}, limit);
  }
  std::erase_if(spots, [](const HighSpot& s) { return s.area_m2 < kLeastSpot; });
  std::stable_sort(spots.begin(), spots.end(),
                   [](const HighSpot& a, const HighSpot& b) { return a.height_m > b.height_m; });
  return spots;
}

}  // namespace pontata
