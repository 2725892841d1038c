#include "engine/flatten/rim_crossing.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "engine/base/predicates.h"

namespace pontata {
namespace {

struct Segment {
  LatticePoint a, b;
};

std::vector<Segment> segments_of(std::span<const std::vector<std::uint32_t>> rims, std::span<const Vec2> flat) {
  std::vector<Segment> out;
  for (const auto& rim : rims)
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const Segment s{to_lattice(to_chart(flat[rim[i]])), to_lattice(to_chart(flat[rim[(i + 1) % rim.size()]]))};
      if (s.a != s.b) out.push_back(s);
    }
  return out;
}

}  // namespace

bool rims_cross(std::span<const std::vector<std::uint32_t>> rims, std::span<const Vec2> flat) {
  const std::vector<Segment> segments = segments_of(rims, flat);
  double length = 0;
  for (const Segment& s : segments)
    length += static_cast<double>(std::max(std::abs(s.b.x - s.a.x), std::abs(s.b.y - s.a.y)));
  const auto cell =
      std::max<std::int64_t>(static_cast<std::int64_t>(length / static_cast<double>(segments.size() + 1)), 1);
  const auto index = [&](std::int64_t x) { return (x >= 0 ? x : x - cell + 1) / cell; };
  std::unordered_map<std::int64_t, std::vector<std::size_t>> cells;
  for (std::size_t n = 0; n < segments.size(); ++n) {
    const auto [a, b] = segments[n];
    for (std::int64_t i = index(std::min(a.x, b.x)); i <= index(std::max(a.x, b.x)); ++i)
      for (std::int64_t j = index(std::min(a.y, b.y)); j <= index(std::max(a.y, b.y)); ++j) {
        auto& here = cells[(i << 32) ^ (j & 0xffffffff)];
        for (const std::size_t m : here)
          if (segments_cross(a, b, segments[m].a, segments[m].b)) return true;
        here.push_back(n);
      }
  }
  return false;
}

}  // namespace pontata
