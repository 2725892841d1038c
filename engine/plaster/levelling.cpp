#include "engine/plaster/levelling.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/plaster/high_spots.h"
#include "engine/plaster/surface_patches.h"

namespace pontata {

namespace {

constexpr double kTrowel = 0.100;       // m, radius of the patches that the wall itself is taken as
constexpr double kTrowelNodes = 0.025;  // m apart
constexpr double kNodesAcross = 14;     // nodes along a straightedge
constexpr double kMostNodes = 200'000;  // of the trowel's; the straightedge's are fewer
constexpr double kMostWideNodes = 20'000;

Outcome check(const ChartedWall& wall, const LevelSettings& settings, const std::string& name) {
  if (!wall.scan)
    return Problem{"this wall was made from its measures: it is true already, there is nothing to level", name,
                   "Bring in a scan of the wall to see its hollows and bumps."};
  if (!(settings.straightedge_m >= 0.5 && settings.straightedge_m <= 6))
    return Problem{"the straightedge must be from 0.5 to 6 m long", name, "2 m is usual."};
  if (!(settings.least_mm >= 0 && settings.least_mm <= 50))
    return Problem{"the thinnest arriccio must be from 0 to 50 mm", name, "8 mm is usual."};
  if (wall.metric->area() < kTrowel * kTrowel)
    return Problem{"this wall is smaller than a trowel", name, "Look whether the scan's unit is right."};
  return Done{};
}

// How deep the wall, freed of the scan's noise, lies behind the fair surface; m by slot of the graph.
std::optional<std::vector<double>> hollows(const PointGraph& graph, double area, double straightedge,
                                           Progress* progress) {
  const double fine = std::max(kTrowelNodes, std::sqrt(area / kMostNodes));
  const auto noise =
      offsets_from_patches(graph, {.reach = std::max(kTrowel, 4 * fine), .spacing = fine}, progress, 0.02, 0.4);
  if (!noise) return std::nullopt;
  const double wide = std::max(straightedge / kNodesAcross, std::sqrt(area / kMostWideNodes));
  auto depth =
      offsets_from_patches(graph, {.reach = straightedge / 2, .spacing = wide, .robust = true}, progress, 0.4, 0.98);
  if (!depth) return std::nullopt;
  for (std::size_t i = 0; i < depth->size(); ++i) (*depth)[i] = (*noise)[i] - (*depth)[i];
  return depth;
}

// The depth that a share of the area does not reach.
double low_quantile(const PointGraph& graph, const std::vector<double>& depth, double share) {
  std::vector<std::uint32_t> order(depth.size());
  double area = 0;
  for (std::uint32_t i = 0; i < order.size(); ++i) order[i] = i, area += graph.area[i];
  std::sort(order.begin(), order.end(),
            [&](auto a, auto b) { return depth[a] != depth[b] ? depth[a] < depth[b] : a < b; });
  double below = 0;
  for (const auto i : order)
    if ((below += graph.area[i]) >= share * area) return depth[i];
  return depth[order.back()];
}

double root_mean_square(const PointGraph& graph, const std::vector<double>& depth) {
  double sum = 0, area = 0;
  for (std::size_t i = 0; i < depth.size(); ++i) sum += graph.area[i] * depth[i] * depth[i], area += graph.area[i];
  return area > 0 ? std::sqrt(sum / area) : 0;
}

// Integral of a0 d + a1 d^2/2 + a2 d^3/3 over the triangle for a depth that is linear in it: the means of d, d^2 and
// d^3 are (sum of d)/3, (sum over i <= j of d_i d_j)/6 and (sum over i <= j <= k of d_i d_j d_k)/10.
double volume_under(const Vec3& terms, const Vec3& d) {
  const double e1 = d.x + d.y + d.z;
  const double p2 = d.x * d.x + d.y * d.y + d.z * d.z;
  const double p3 = d.x * d.x * d.x + d.y * d.y * d.y + d.z * d.z * d.z;
  const double mean2 = (e1 * e1 + p2) / 12;
  const double mean3 = (e1 * e1 * e1 + 3 * e1 * p2 + 2 * p3) / 60;
  return terms.x * e1 / 3 + terms.y * mean2 / 2 + terms.z * mean3 / 3;
}

void add_volumes(const ChartedWall& wall, double least, LevelCoat& coat) {
  const auto& triangles = wall.mesh().triangles;
  coat.volume_m3.reserve(triangles.size());
  long double total = 0, flat = 0, area = 0, thin = 0;
  for (std::uint32_t t = 0; t < triangles.size(); ++t) {
    const Vec3 d{coat.depth_m[triangles[t][0]], coat.depth_m[triangles[t][1]], coat.depth_m[triangles[t][2]]};
    const Vec3 terms = wall.metric->triangle_terms(t);
    coat.volume_m3.push_back(volume_under(terms, d));
    total += coat.volume_m3.back();
    flat += terms.x * (d.x + d.y + d.z) / 3;
    area += terms.x;
    thin += terms.x * share_below(d, least - 1e-9);
  }
  coat.total_m3 = static_cast<double>(total);
  coat.flat_m3 = static_cast<double>(flat);
  coat.area_m2 = static_cast<double>(area);
  coat.mean_m = static_cast<double>(flat / area);
  coat.thin_share = static_cast<double>(thin / area);
}

}  // namespace

Result<LevelCoat> level_wall(const ChartedWall& wall, const LevelSettings& settings, const std::string& name,
                             Progress* progress) {
  if (const auto sound = check(wall, settings, name); !sound) return sound.problem();
  report(progress, 0, "measuring hollows and bumps");
  const PointGraph graph = point_graph(wall);
  auto depth = hollows(graph, wall.metric->area(), settings.straightedge_m, progress);
  if (!depth) return Problem{"stopped", "", ""};
  LevelCoat coat;
  const double least = settings.least_mm / 1000;
  coat.roughness_m = root_mean_square(graph, *depth);
  coat.shift_m = least - low_quantile(graph, *depth, kHighShare);
  for (double& d : *depth) d += coat.shift_m;
  coat.high_spots = find_high_spots(wall, graph, *depth, least);
  coat.depth_m.reserve(graph.slot.size());
  for (const auto i : graph.slot) coat.depth_m.push_back(std::max(0.0, (*depth)[i]));
  const auto [low, high] = std::minmax_element(coat.depth_m.begin(), coat.depth_m.end());
  coat.thinnest_m = *low, coat.greatest_m = *high;
  add_volumes(wall, least, coat);
  report(progress, 1, "done");
  return coat;
}

}  // namespace pontata
