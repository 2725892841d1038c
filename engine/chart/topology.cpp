#include "engine/chart/topology.h"

#include <algorithm>

namespace pontata {

namespace {

using Failure = std::optional<TopologyFailure>;

struct EdgeUse {
  std::uint32_t high = 0, half_edge = 0;  // half-edge 3 t + k; the edge's lower point is the bucket
};

std::uint32_t start_of(const std::vector<Triangle>& triangles, std::uint32_t h) { return triangles[h / 3][h % 3]; }
std::uint32_t end_of(const std::vector<Triangle>& triangles, std::uint32_t h) {
  return triangles[h / 3][(h % 3 + 1) % 3];
}

Failure check_indices(const std::vector<Triangle>& triangles, std::size_t points) {
  for (const auto& t : triangles) {
    for (const auto corner : t)
      if (corner >= points) return TopologyFailure{TopologyFault::bad_index, 0};
    if (t[0] == t[1] || t[1] == t[2] || t[2] == t[0]) return TopologyFailure{TopologyFault::bad_index, t[0]};
  }
  return std::nullopt;
}

// Buckets the edges by their lower point, then pairs the uses within each bucket.
Failure pair_edges(const std::vector<Triangle>& triangles, std::size_t points, std::vector<Triangle>& across) {
  const auto half_edges = static_cast<std::uint32_t>(3 * triangles.size());
  std::vector<std::uint32_t> start(points + 1, 0);
  const auto low_of = [&](std::uint32_t h) { return std::min(start_of(triangles, h), end_of(triangles, h)); };
  for (std::uint32_t h = 0; h < half_edges; ++h) ++start[low_of(h) + 1];
  for (std::size_t p = 1; p <= points; ++p) start[p] += start[p - 1];
  std::vector<EdgeUse> uses(half_edges);
  std::vector<std::uint32_t> next(start.begin(), start.end() - 1);
  for (std::uint32_t h = 0; h < half_edges; ++h)
    uses[next[low_of(h)]++] = {std::max(start_of(triangles, h), end_of(triangles, h)), h};
  across.assign(triangles.size(), {kNoNeighbour, kNoNeighbour, kNoNeighbour});
  for (std::uint32_t p = 0; p < points; ++p) {
    const auto first = uses.begin() + start[p], last = uses.begin() + start[p + 1];
    std::sort(first, last, [](const EdgeUse& a, const EdgeUse& b) {
      return a.high != b.high ? a.high < b.high : a.half_edge < b.half_edge;
    });
    for (auto i = first; i != last;) {
      auto j = i + 1;
      while (j != last && j->high == i->high) ++j;
      if (j - i > 2 || (j - i == 2 && start_of(triangles, i->half_edge) == start_of(triangles, (i + 1)->half_edge)))
        return TopologyFailure{TopologyFault::edge_shared_wrongly, p};
      if (j - i == 2) {
        const auto a = i->half_edge, b = (i + 1)->half_edge;
        across[a / 3][a % 3] = b / 3;
        across[b / 3][b % 3] = a / 3;
      }
      i = j;
    }
  }
  return std::nullopt;
}

// Corner of triangle t at point p.
std::uint32_t corner_at(const Triangle& t, std::uint32_t p) { return t[0] == p ? 0 : (t[1] == p ? 1 : 2); }

// Every point must have one fan of triangles: the fan walked from one of its triangles (from the border where there is
// one) must hold all its corners.
Failure check_fans(const std::vector<Triangle>& triangles, const std::vector<Triangle>& across,
                   const std::vector<std::uint32_t>& border_from, std::size_t points) {
  std::vector<std::uint32_t> corners(points, 0), first(points, kNoNeighbour);
  for (std::uint32_t t = 0; t < triangles.size(); ++t)
    for (const auto p : triangles[t]) ++corners[p], first[p] = t;
  for (std::uint32_t p = 0; p < points; ++p) {
    if (corners[p] == 0) continue;
    const std::uint32_t begin = border_from[p] != kNoNeighbour ? border_from[p] / 3 : first[p];
    std::uint32_t t = begin, count = 0;
    do {
      ++count;
      t = across[t][(corner_at(triangles[t], p) + 2) % 3];  // counter-clockwise: over the edge that ends at p
    } while (t != kNoNeighbour && t != begin && count <= corners[p]);
    if (count != corners[p]) return TopologyFailure{TopologyFault::touching_sheets, p};
  }
  return std::nullopt;
}

Failure find_borders(const std::vector<Triangle>& triangles, const std::vector<Triangle>& across,
                     std::vector<std::uint32_t>& border_from) {
  for (std::uint32_t h = 0; h < 3 * triangles.size(); ++h) {
    if (across[h / 3][h % 3] != kNoNeighbour) continue;
    auto& from = border_from[start_of(triangles, h)];
    if (from != kNoNeighbour) return TopologyFailure{TopologyFault::touching_sheets, start_of(triangles, h)};
    from = h;
  }
  return std::nullopt;
}

std::vector<std::vector<std::uint32_t>> trace_loops(const std::vector<Triangle>& triangles,
                                                    std::vector<std::uint32_t> border_from) {
  std::vector<std::vector<std::uint32_t>> loops;
  for (std::uint32_t p = 0; p < border_from.size(); ++p) {
    if (border_from[p] == kNoNeighbour) continue;
    auto& loop = loops.emplace_back();
    for (std::uint32_t q = p; border_from[q] != kNoNeighbour;) {
      loop.push_back(q);
      const auto h = border_from[q];
      border_from[q] = kNoNeighbour;
      q = end_of(triangles, h);
    }
  }
  return loops;
}

}  // namespace

std::optional<TopologyFailure> build_topology(const std::vector<Triangle>& triangles, std::size_t points,
                                              Topology& out) {
  if (auto failure = check_indices(triangles, points)) return failure;
  if (auto failure = pair_edges(triangles, points, out.across)) return failure;
  std::vector<std::uint32_t> border_from(points, kNoNeighbour);
  if (auto failure = find_borders(triangles, out.across, border_from)) return failure;
  if (auto failure = check_fans(triangles, out.across, border_from, points)) return failure;
  out.loops = trace_loops(triangles, std::move(border_from));
  if (out.loops.empty()) return TopologyFailure{TopologyFault::closed, 0};
  return std::nullopt;
}

}  // namespace pontata
