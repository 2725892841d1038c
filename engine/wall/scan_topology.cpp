#include "engine/wall/scan_topology.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "engine/base/parallel.h"
#include "engine/base/roots.h"

namespace pontata {
namespace {

constexpr std::size_t kGrain = 20'000;  // points worth a worker of its own

// One side of an edge: triangle t, edge k, corners in increasing order as the key.
struct Side {
  std::uint32_t low, high, t;
  int k;
  bool operator<(const Side& o) const {
    if (low != o.low) return low < o.low;
    if (high != o.high) return high < o.high;
    if (t != o.t) return t < o.t;
    return k < o.k;
  }
};

// Where the sides of edges with each lower point begin.
std::vector<std::uint32_t> bucket_starts(const std::vector<Triangle>& triangles) {
  std::uint32_t most = 0;
  for (const Triangle& t : triangles) most = std::max({most, t[0], t[1], t[2]});
  std::vector<std::uint32_t> start(std::size_t{most} + 2, 0);
  for (const Triangle& t : triangles)
    for (std::size_t k = 0; k < 3; ++k) ++start[std::min(t[k], t[(k + 1) % 3]) + 1];
  std::partial_sum(start.begin(), start.end(), start.begin());
  start.pop_back();
  return start;
}

// In buckets by the lower point, each sorted.
std::vector<Side> sorted_sides(const std::vector<Triangle>& triangles) {
  std::vector<std::uint32_t> start = bucket_starts(triangles);
  std::vector<Side> sides(3 * triangles.size());
  for (std::uint32_t t = 0; t < triangles.size(); ++t)
    for (int k = 0; k < 3; ++k) {
      const std::uint32_t a = triangles[t][k], b = triangles[t][(k + 1) % 3];
      sides[start[std::min(a, b)]++] = {std::min(a, b), std::max(a, b), t, k};
    }
  for_blocks(start.size(), kGrain, [&](std::size_t begin, std::size_t end) {
    for (std::size_t p = begin; p < end; ++p)  // start[p] has moved to the end of bucket p
      std::sort(sides.begin() + (p == 0 ? 0 : start[p - 1]), sides.begin() + start[p]);
  });
  return sides;
}

// Calls f(first, last) for every run of sides on one edge.
template <class F>
void for_each_edge(const std::vector<Side>& sides, F f) {
  for (std::size_t i = 0; i < sides.size();) {
    std::size_t j = i + 1;
    while (j < sides.size() && sides[j].low == sides[i].low && sides[j].high == sides[i].high) ++j;
    f(i, j);
    i = j;
  }
}

void join(std::vector<Triangle>& across, const Side& a, const Side& b) {
  across[a.t][static_cast<std::size_t>(a.k)] = b.t;
  across[b.t][static_cast<std::size_t>(b.k)] = a.t;
}

// Unit vector in the triangle, square to its edge, into the triangle.
Vec3 inward(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles, const Side& s) {
  const Vec3 edge = points[s.high] - points[s.low];
  const Vec3 to = points[triangles[s.t][static_cast<std::size_t>((s.k + 2) % 3)]] - points[s.low];
  const Vec3 in = to - edge * (glm::dot(to, edge) / std::max(glm::dot(edge, edge), 1e-300));
  return in / std::max(glm::length(in), 1e-300);
}

// Pairs the sides first..last, flattest pair first.
void pair_flattest(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles,
                   const std::vector<Side>& sides, std::size_t first, std::size_t last, std::vector<Triangle>& across) {
  std::vector<std::size_t> left;
  std::vector<Vec3> in;
  for (std::size_t i = first; i < last; ++i) {
    left.push_back(i);
    in.push_back(inward(points, triangles, sides[i]));
  }
  while (left.size() >= 2) {
    std::size_t best_a = 0, best_b = 1;
    double best = 2;
    for (std::size_t a = 0; a < left.size(); ++a)
      for (std::size_t b = a + 1; b < left.size(); ++b)
        if (const double fold = glm::dot(in[left[a] - first], in[left[b] - first]);
            fold < best && sides[left[a]].t != sides[left[b]].t)
          best = fold, best_a = a, best_b = b;
    if (best == 2) return;
    join(across, sides[left[best_a]], sides[left[best_b]]);
    left.erase(left.begin() + static_cast<std::ptrdiff_t>(best_b));
    left.erase(left.begin() + static_cast<std::ptrdiff_t>(best_a));
  }
}

int side_toward(const std::vector<Triangle>& across, const std::vector<Triangle>& triangles, std::uint32_t t,
                std::uint32_t from, std::uint32_t a, std::uint32_t b) {
  for (int k = 0; k < 3; ++k) {
    const std::uint32_t p = triangles[t][k], q = triangles[t][(k + 1) % 3];
    if (across[t][k] == from && std::minmax(p, q) == std::minmax(a, b)) return k;
  }
  return -1;
}

struct Parts {
  std::vector<std::uint32_t> of;  // part of each triangle
  std::vector<bool> turned;       // triangle runs against the first of its part
  std::uint32_t count = 0;
  bool one_sided = false;
};

// Flood fill; an edge over which no agreement is possible is cut.
Parts orient_parts(const std::vector<Triangle>& triangles, std::vector<Triangle>& across) {
  Parts parts{std::vector<std::uint32_t>(triangles.size(), kNoNeighbour), std::vector<bool>(triangles.size(), false)};
  std::vector<std::uint32_t> queue;
  for (std::uint32_t seed = 0; seed < triangles.size(); ++seed) {
    if (parts.of[seed] != kNoNeighbour) continue;
    queue.assign(1, seed);
    parts.of[seed] = parts.count;
    for (std::size_t head = 0; head < queue.size(); ++head) {
      const std::uint32_t t = queue[head];
      for (int k = 0; k < 3; ++k) {
        const std::uint32_t n = across[t][k];
        if (n == kNoNeighbour) continue;
        const std::uint32_t a = triangles[t][k], b = triangles[t][(k + 1) % 3];
        const int other = side_toward(across, triangles, n, t, a, b);
        const bool against = (triangles[n][other] == a) != parts.turned[t];
        if (parts.of[n] == kNoNeighbour) {
          parts.of[n] = parts.count;
          parts.turned[n] = against;
          queue.push_back(n);
        } else if (parts.turned[n] != against) {
          across[t][k] = across[n][other] = kNoNeighbour;
          parts.one_sided = true;
        }
      }
    }
    ++parts.count;
  }
  return parts;
}

// Triangles that make an edge between two points occur more than once; true in the answer means it must go.
std::vector<bool> crowding(const std::vector<Triangle>& triangles, const std::vector<Triangle>& across) {
  std::vector<bool> gone(triangles.size(), false);
  const auto sides = sorted_sides(triangles);
  for_each_edge(sides, [&](std::size_t i, std::size_t j) {
    if (j - i < 2) return;
    const std::uint32_t partner = across[sides[i].t][static_cast<std::size_t>(sides[i].k)];
    if (j - i == 2 && sides[i + 1].t == partner) return;
    for (std::size_t s = i + 1; s < j; ++s)
      if (sides[s].t != partner) gone[sides[s].t] = true;
  });
  return gone;
}

// The part wanted, and what the vote on the painted side says of it.
std::uint32_t wanted_part(const Soup& soup, const Parts& parts, const std::optional<Vec3>& part_at, SheetReport& report,
                          double& vote) {
  auto found = weigh_parts(soup, parts.of, parts.count);
  const std::uint32_t best = part_at ? parts.of[triangle_nearest(soup, *part_at)] : found[0].part;
  for (std::size_t t = 0; t < soup.triangles.size(); ++t)
    if (parts.of[t] == best) vote += parts.turned[t] ? -soup.facing[t] : soup.facing[t];
  report.parts_left_out += parts.count - 1;
  for (const FoundPart& part : found)
    if (part.part != best) report.area_left_out_m2 += part.area_m2;
  if (report.parts.empty()) report.parts = std::move(found);
  return best;
}

void keep_part(Soup& soup, const Parts& parts, std::uint32_t part, bool turn_all, std::vector<Triangle>& across,
               SheetReport& report) {
  std::vector<std::uint32_t> to(soup.triangles.size(), kNoNeighbour);
  std::size_t kept = 0;
  for (std::size_t t = 0; t < soup.triangles.size(); ++t) {
    if (parts.of[t] != part) continue;
    to[t] = static_cast<std::uint32_t>(kept);
    Triangle triangle = soup.triangles[t], links = across[t];
    double facing = soup.facing[t];
    if (parts.turned[t] != turn_all) {
      std::swap(triangle[1], triangle[2]);
      std::swap(links[0], links[2]);
      facing = -facing;
      ++report.flipped;
    }
    soup.triangles[kept] = triangle;
    soup.facing[kept] = facing;
    across[kept++] = links;
  }
  soup.triangles.resize(kept);
  soup.facing.resize(kept);
  across.resize(kept);
  for (Triangle& links : across)
    for (auto& n : links)
      if (n != kNoNeighbour) n = to[n];
}

}  // namespace

std::vector<Triangle> link_triangles(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles) {
  std::vector<Triangle> across(triangles.size(), Triangle{kNoNeighbour, kNoNeighbour, kNoNeighbour});
  const auto sides = sorted_sides(triangles);
  for_each_edge(sides, [&](std::size_t i, std::size_t j) {
    if (j - i == 2)
      join(across, sides[i], sides[i + 1]);
    else if (j - i > 2)
      pair_flattest(points, triangles, sides, i, j, across);
  });
  return across;
}

void split_fans(Soup& soup, const std::vector<Triangle>& across) {
  std::vector<std::uint32_t> up(3 * soup.triangles.size());
  std::iota(up.begin(), up.end(), 0u);
  for (std::uint32_t t = 0; t < soup.triangles.size(); ++t)
    for (std::uint32_t k = 0; k < 3; ++k) {
      const std::uint32_t n = across[t][k];
      if (n == kNoNeighbour || n < t) continue;
      const std::uint32_t a = soup.triangles[t][k], b = soup.triangles[t][(k + 1) % 3];
      const int other = side_toward(across, soup.triangles, n, t, a, b);
      const auto j = static_cast<std::uint32_t>(other);
      up[root_of(up, 3 * n + (j + 1) % 3)] = root_of(up, 3 * t + k);
      up[root_of(up, 3 * n + j)] = root_of(up, 3 * t + (k + 1) % 3);
    }
  std::vector<std::uint32_t> named(up.size(), kNoNeighbour);
  std::vector<Vec3> points;
  for (std::uint32_t c = 0; c < up.size(); ++c) {
    std::uint32_t& corner = soup.triangles[c / 3][c % 3];
    std::uint32_t& name = named[root_of(up, c)];
    if (name == kNoNeighbour) {
      name = static_cast<std::uint32_t>(points.size());
      points.push_back(soup.points[corner]);
    }
    corner = name;
  }
  soup.points = std::move(points);
}

SheetReport make_sheet(Soup& soup, const std::optional<Vec3>& part_at) {
  SheetReport report;
  for_each_edge(sorted_sides(soup.triangles), [&](std::size_t i, std::size_t j) { report.crowded_edges += j - i > 2; });
  for (int round = 0; !soup.triangles.empty(); ++round) {
    auto across = link_triangles(soup.points, soup.triangles);
    const Parts parts = orient_parts(soup.triangles, across);
    double vote = 0;
    const std::uint32_t part = wanted_part(soup, parts, part_at, report, vote);
    report.one_sided = report.one_sided || parts.one_sided;
    keep_part(soup, parts, part, vote < 0, across, report);
    split_fans(soup, across);
    const auto gone = crowding(soup.triangles, across);
    const auto bad = static_cast<std::size_t>(std::count(gone.begin(), gone.end(), true));
    if (bad == 0) break;
    report.dropped += bad;
    compact(soup, gone);
  }
  return report;
}

double loop_length(const std::vector<Vec3>& points, const std::vector<std::uint32_t>& loop) {
  double sum = 0;
  for (std::size_t i = 0; i < loop.size(); ++i)
    sum += glm::length(points[loop[(i + 1) % loop.size()]] - points[loop[i]]);
  return sum;
}

std::vector<std::vector<std::uint32_t>> border_loops(const std::vector<Vec3>& points,
                                                     const std::vector<Triangle>& triangles,
                                                     const std::vector<Triangle>& across) {
  std::vector<std::uint32_t> next(points.size(), kNoNeighbour);
  for (std::size_t t = 0; t < triangles.size(); ++t)
    for (std::size_t k = 0; k < 3; ++k)
      if (across[t][k] == kNoNeighbour) next[triangles[t][k]] = triangles[t][(k + 1) % 3];
  std::vector<std::vector<std::uint32_t>> loops;
  for (std::uint32_t start = 0; start < next.size(); ++start) {
    if (next[start] == kNoNeighbour) continue;
    std::vector<std::uint32_t> loop;
    for (std::uint32_t p = start; p != kNoNeighbour && next[p] != kNoNeighbour;) {
      loop.push_back(p);
      p = std::exchange(next[p], kNoNeighbour);
    }
    loops.push_back(std::move(loop));
  }
  std::vector<std::pair<double, std::size_t>> by_length;
  for (std::size_t i = 0; i < loops.size(); ++i) by_length.emplace_back(-loop_length(points, loops[i]), i);
  std::sort(by_length.begin(), by_length.end());
  std::vector<std::vector<std::uint32_t>> out;
  for (const auto& [length, i] : by_length) out.push_back(std::move(loops[i]));
  return out;
}

}  // namespace pontata
