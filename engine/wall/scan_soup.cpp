#include "engine/wall/scan_soup.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <compare>
#include <numeric>

namespace pontata {
namespace {

constexpr std::uint32_t kNobody = 0xffffffffu;

// Kept points chained in hash buckets by the cell they lie in; cells are wider than the reach, so that one look-up is
// the rule and eight the most.
class WeldGrid {
 public:
  WeldGrid(const std::vector<Vec3>& points, double reach)
      : points_(points),
        reach_(reach),
        cell_(8 * reach),
        head_(std::bit_ceil(std::max<std::size_t>(16, points.size())), kNobody),
        next_(points.size(), kNobody) {}

  // First kept point within reach of p, in order of keeping.
  std::uint32_t find(const Vec3& p) const {
    const Cell low = cell_of(p - Vec3(reach_)), high = cell_of(p + Vec3(reach_));
    std::uint32_t best = kNobody;
    for (std::int64_t x = low.x; x <= high.x; ++x)
      for (std::int64_t y = low.y; y <= high.y; ++y)
        for (std::int64_t z = low.z; z <= high.z; ++z)
          for (std::uint32_t i = head_[bucket({x, y, z})]; i != kNobody; i = next_[i])
            if (i < best && near(points_[i], p)) best = i;
    return best;
  }

  void keep(std::uint32_t i) {
    std::uint32_t& head = head_[bucket(cell_of(points_[i]))];
    next_[i] = head;
    head = i;
  }

 private:
  struct Cell {
    std::int64_t x, y, z;
  };
  bool near(const Vec3& a, const Vec3& b) const {
    const Vec3 d = a - b;
    return glm::dot(d, d) <= reach_ * reach_;
  }
  Cell cell_of(const Vec3& p) const {
    const auto whole = [&](double x) { return static_cast<std::int64_t>(std::floor(x / cell_)); };
    return {whole(p.x), whole(p.y), whole(p.z)};
  }
  std::size_t bucket(const Cell& c) const {
    std::uint64_t h = static_cast<std::uint64_t>(c.x) * 0x9e3779b97f4a7c15u;
    h = (h ^ (h >> 31)) + static_cast<std::uint64_t>(c.y) * 0xbf58476d1ce4e5b9u;
    h = (h ^ (h >> 29)) + static_cast<std::uint64_t>(c.z) * 0x94d049bb133111ebu;
    return (h ^ (h >> 32)) & (head_.size() - 1);
  }

  const std::vector<Vec3>& points_;
  double reach_, cell_;
  std::vector<std::uint32_t> head_, next_;
};

}  // namespace

double triangle_area(const std::vector<Vec3>& points, const Triangle& t) {
  return 0.5 * glm::length(glm::cross(points[t[1]] - points[t[0]], points[t[2]] - points[t[0]]));
}

double total_area(const std::vector<Vec3>& points, const std::vector<Triangle>& triangles) {
  double sum = 0;
  for (const Triangle& t : triangles) sum += triangle_area(points, t);
  return sum;
}

std::size_t weld(Soup& soup, double distance) {
  WeldGrid grid(soup.points, std::max(distance, 1e-12));
  std::vector<std::uint32_t> to(soup.points.size());
  std::size_t joined = 0;
  for (std::uint32_t i = 0; i < soup.points.size(); ++i) {
    to[i] = grid.find(soup.points[i]);
    if (to[i] == kNobody)
      grid.keep(to[i] = i);
    else
      ++joined;
  }
  for (Triangle& t : soup.triangles)
    for (auto& corner : t) corner = to[corner];
  return joined;
}

std::size_t drop_degenerate(Soup& soup) {
  std::vector<bool> gone(soup.triangles.size(), false);
  for (std::size_t i = 0; i < gone.size(); ++i) {
    const Triangle& t = soup.triangles[i];
    gone[i] = t[0] == t[1] || t[1] == t[2] || t[2] == t[0] || !(triangle_area(soup.points, t) > 0);
  }
  compact(soup, gone);
  return static_cast<std::size_t>(std::count(gone.begin(), gone.end(), true));
}

std::size_t drop_duplicates(Soup& soup) {
  struct Key {
    std::uint32_t middle, highest, triangle;
    auto operator<=>(const Key&) const = default;
  };
  std::vector<std::uint32_t> start(soup.points.size() + 1, 0);  // by lowest corner
  for (const Triangle& t : soup.triangles) ++start[std::min({t[0], t[1], t[2]}) + 1];
  std::partial_sum(start.begin(), start.end(), start.begin());
  std::vector<Key> keys(soup.triangles.size());
  for (std::uint32_t i = 0; i < keys.size(); ++i) {
    Triangle t = soup.triangles[i];
    std::sort(t.begin(), t.end());
    keys[start[t[0]]++] = {t[1], t[2], i};  // afterwards start[p] is the end of bucket p
  }
  std::vector<bool> gone(keys.size(), false);
  for (std::size_t p = 0, begin = 0; p < soup.points.size(); begin = start[p++]) {
    std::sort(keys.begin() + static_cast<std::ptrdiff_t>(begin), keys.begin() + start[p]);
    for (std::size_t i = begin + 1; i < start[p]; ++i)
      if (keys[i].middle == keys[i - 1].middle && keys[i].highest == keys[i - 1].highest) gone[keys[i].triangle] = true;
  }
  compact(soup, gone);
  return static_cast<std::size_t>(std::count(gone.begin(), gone.end(), true));
}

void compact(Soup& soup, const std::vector<bool>& gone) {
  std::size_t kept = 0;
  for (std::size_t i = 0; i < soup.triangles.size(); ++i) {
    if (!gone.empty() && gone[i]) continue;
    soup.triangles[kept] = soup.triangles[i];
    soup.facing[kept++] = soup.facing[i];
  }
  soup.triangles.resize(kept);
  soup.facing.resize(kept);
  std::vector<std::uint32_t> to(soup.points.size(), kNobody);
  for (const Triangle& t : soup.triangles)
    for (const auto corner : t) to[corner] = 0;
  std::uint32_t used = 0;
  for (std::size_t i = 0; i < to.size(); ++i) {
    if (to[i] == kNobody) continue;
    soup.points[used] = soup.points[i];
    to[i] = used++;
  }
  soup.points.resize(used);
  for (Triangle& t : soup.triangles)
    for (auto& corner : t) corner = to[corner];
}

}  // namespace pontata
