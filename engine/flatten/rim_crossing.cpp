#include "engine/flatten/rim_crossing.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "engine/base/predicates.h"

namespace pontata {
namespace {

bool meet(const RimSegment& s, const RimSegment& t, Meeting meeting) {
  if (meeting == Meeting::crossing) return segments_cross(s.a, s.b, t.a, t.b);
  if (!segments_meet(s.a, s.b, t.a, t.b)) return false;
  const bool aa = s.a == t.a, ab = s.a == t.b, ba = s.b == t.a, bb = s.b == t.b;
  if (!aa && !ab && !ba && !bb) return true;
  if ((aa && bb) || (ab && ba)) return true;  // one upon the other
  const LatticePoint common = aa || ab ? s.a : s.b, p = aa || ab ? s.b : s.a, q = aa || ba ? t.b : t.a;
  return on_segment(common, p, q) || on_segment(common, q, p);
}

}  // namespace

std::optional<RimMeeting> find_meeting(std::span<const RimSegment> segments, Meeting meeting) {
  double length = 0;
  for (const RimSegment& s : segments)
    length += static_cast<double>(std::max(std::abs(s.b.x - s.a.x), std::abs(s.b.y - s.a.y)));
  const auto cell =
      std::max<std::int64_t>(static_cast<std::int64_t>(length / static_cast<double>(segments.size() + 1)), 1);
  const auto index = [&](std::int64_t x) { return (x >= 0 ? x : x - cell + 1) / cell; };
  std::unordered_map<std::int64_t, std::vector<std::size_t>> cells;
  for (std::size_t n = 0; n < segments.size(); ++n) {
    const auto [a, b] = segments[n];
    for (std::int64_t i = index(std::min(a.x, b.x)); i <= index(std::max(a.x, b.x)); ++i)
      for (std::int64_t j = index(std::min(a.y, b.y)); j <= index(std::max(a.y, b.y)); ++j) {
        auto& here = cells[static_cast<std::int64_t>(static_cast<std::uint64_t>(i) << 32) ^ (j & 0xffffffff)];
        for (const std::size_t m : here)
          if (meet(segments[n], segments[m], meeting)) return RimMeeting{m, n};
        here.push_back(n);
      }
  }
  return std::nullopt;
}

bool rims_cross(std::span<const std::vector<std::uint32_t>> rims, std::span<const Vec2> flat) {
  std::vector<RimSegment> segments;
  for (const auto& rim : rims)
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const RimSegment s{to_lattice(to_chart(flat[rim[i]])), to_lattice(to_chart(flat[rim[(i + 1) % rim.size()]]))};
      if (s.a != s.b) segments.push_back(s);
    }
  return find_meeting(segments, Meeting::crossing).has_value();
}

}  // namespace pontata
