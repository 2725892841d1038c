// Based on: Eppstein, "Dynamic generators of topologically embedded graphs", 2003 (tree and cotree); Erickson and
// Whittlesey, "Greedy optimal homotopy and homology generators", 2005 (the cotree takes the far edges first).
#include "engine/wall/scan_handles.h"

#include <algorithm>
#include <numeric>
#include <set>

#include "engine/base/roots.h"
#include "engine/wall/edge_paths.h"
#include "engine/wall/scan_topology.h"

namespace pontata {
namespace {

// Two loops for every handle, as short as loops by way of the root can be; shortest first.
std::vector<std::vector<std::uint32_t>> sorted_loops(const std::vector<Vec3>& points,
                                                     const std::vector<SheetEdge>& edges, std::size_t faces,
                                                     std::uint32_t root) {
  const PathTree tree = shortest_paths(points.size(), edges, {root});
  std::vector<std::uint32_t> order(edges.size());
  std::iota(order.begin(), order.end(), 0u);
  const auto weight = [&](std::uint32_t i) { return tree.far[edges[i].a] + tree.far[edges[i].b] + edges[i].length; };
  std::stable_sort(order.begin(), order.end(), [&](auto i, auto j) { return weight(i) > weight(j); });
  std::vector<std::uint32_t> up(faces);
  std::iota(up.begin(), up.end(), 0u);
  std::vector<std::pair<double, std::vector<std::uint32_t>>> found;
  for (const auto i : order) {
    const SheetEdge& e = edges[i];
    if (tree.parent[e.a] == e.b || tree.parent[e.b] == e.a) continue;
    const std::uint32_t left = root_of(up, e.left), right = root_of(up, e.right);
    if (left != right) {
      up[right] = left;
      continue;
    }
    auto loop = path_through(tree, e.a, e.b);
    const double length = loop_length(points, loop);
    found.emplace_back(length, std::move(loop));
  }
  std::sort(found.begin(), found.end());
  std::vector<std::vector<std::uint32_t>> out;
  for (auto& [length, loop] : found) out.push_back(std::move(loop));
  return out;
}

using Cuts = std::set<std::pair<std::uint32_t, std::uint32_t>>;

// Marks the loops no longer than `most` that keep clear of each other; true where there was one.
bool mark_short(const std::vector<Vec3>& points, const std::vector<std::vector<std::uint32_t>>& loops, double most,
                Cuts& cuts, HandleReport& report) {
  std::vector<bool> touched(points.size(), false);
  bool any = false;
  for (const auto& loop : loops) {
    const double length = loop_length(points, loop);
    if (length > most) break;
    if (std::any_of(loop.begin(), loop.end(), [&](auto p) { return touched[p]; })) continue;
    any = true;
    ++report.cut;
    report.longest_m = std::max(report.longest_m, length);
    for (std::size_t i = 0; i < loop.size(); ++i) {
      touched[loop[i]] = true;
      cuts.insert(std::minmax({loop[i], loop[(i + 1) % loop.size()]}));
    }
  }
  return any;
}

}  // namespace

std::size_t count_handles(const std::vector<Triangle>& triangles, const std::vector<Triangle>& across,
                          std::size_t rims) {
  std::uint32_t most = 0;
  for (const Triangle& t : triangles) most = std::max({most, t[0], t[1], t[2]});
  std::vector<bool> used(most + 1, false);
  std::int64_t twice_edges = 0;
  for (std::size_t t = 0; t < triangles.size(); ++t)
    for (std::size_t k = 0; k < 3; ++k) {
      used[triangles[t][k]] = true;
      twice_edges += across[t][k] == kNoNeighbour ? 2 : 1;
    }
  const std::int64_t euler =
      std::count(used.begin(), used.end(), true) - twice_edges / 2 + static_cast<std::int64_t>(triangles.size());
  return static_cast<std::size_t>(std::max<std::int64_t>(0, (2 - static_cast<std::int64_t>(rims) - euler) / 2));
}

std::vector<std::vector<std::uint32_t>> handle_loops(const std::vector<Vec3>& points,
                                                     const std::vector<Triangle>& triangles,
                                                     const std::vector<std::vector<std::uint32_t>>& rims) {
  return sorted_loops(points, sheet_edges(points, triangles, rims), triangles.size() + rims.size(), triangles[0][0]);
}

HandleReport cut_small_handles(Soup& sheet, double most) {
  HandleReport report;
  // Looking again from a point of a long loop may show a short one there; each look costs a pass over all edges.
  std::size_t looks_left = 100'000'000 / std::max<std::size_t>(1, sheet.triangles.size());
  for (;;) {
    auto across = link_triangles(sheet.points, sheet.triangles);
    const auto rims = border_loops(sheet.points, sheet.triangles, across);
    report.left = count_handles(sheet.triangles, across, rims.size());
    if (report.left == 0) return report;
    const auto edges = sheet_edges(sheet.points, sheet.triangles, rims);
    const std::size_t faces = sheet.triangles.size() + rims.size();
    const auto loops = sorted_loops(sheet.points, edges, faces, sheet.triangles[0][0]);
    Cuts cuts;
    bool any = mark_short(sheet.points, loops, most, cuts, report);
    for (std::size_t i = 0; i < loops.size() && !any && looks_left > 0; ++i, --looks_left)
      any = mark_short(sheet.points, sorted_loops(sheet.points, edges, faces, loops[i][0]), most, cuts, report);
    if (!any) return report;
    for (std::size_t t = 0; t < sheet.triangles.size(); ++t)
      for (std::size_t k = 0; k < 3; ++k)
        if (cuts.contains(std::minmax({sheet.triangles[t][k], sheet.triangles[t][(k + 1) % 3]})))
          across[t][k] = kNoNeighbour;
    split_fans(sheet, across);
  }
}

}  // namespace pontata
