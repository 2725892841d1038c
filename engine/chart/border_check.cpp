#include "engine/chart/border_check.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <span>
#include <utility>

#include "engine/base/predicates.h"

namespace pontata {

namespace {

struct Segment {
  LatticePoint a, b;
  std::uint32_t ring, index;
};

std::vector<Segment> segments_of(const std::vector<Ring>& rings) {
  std::vector<Segment> out;
  for (std::uint32_t r = 0; r < rings.size(); ++r)
    for (std::size_t i = 0; i < rings[r].size(); ++i)
      out.push_back({rings[r][i], rings[r][(i + 1) % rings[r].size()], r, static_cast<std::uint32_t>(i)});
  return out;
}

// Rows of equal height; within a row the segments' extents are sorted by their left end and swept.
struct Extent {
  std::int32_t row;
  double low, high;
  std::uint32_t segment;
  bool operator<(const Extent& o) const {
    return row != o.row ? row < o.row : (low != o.low ? low < o.low : segment < o.segment);
  }
};

std::vector<Extent> extents_of(const std::vector<Segment>& segments) {
  double y_low = INFINITY, y_high = -INFINITY;
  for (const auto& s : segments) {
    y_low = std::min(y_low, static_cast<double>(s.a.y)), y_high = std::max(y_high, static_cast<double>(s.a.y));
  }
  const int rows = std::max(1, static_cast<int>(std::sqrt(static_cast<double>(segments.size()))));
  const double height = (y_high - y_low) / rows + 1;
  std::vector<Extent> out;
  for (std::uint32_t i = 0; i < segments.size(); ++i) {
    const LatticePoint a = segments[i].a, b = segments[i].b;
    const double ax = static_cast<double>(a.x), bx = static_cast<double>(b.x);
    const double ay = static_cast<double>(a.y), by = static_cast<double>(b.y);
    const auto row = [&](double y) { return static_cast<std::int32_t>((y - y_low) / height); };
    for (auto r = row(std::min(ay, by)); r <= row(std::max(ay, by)); ++r) {
      double t0 = 0, t1 = 1;
      if (a.y != b.y) {
        t0 = std::clamp((y_low + r * height - 2 - ay) / (by - ay), 0.0, 1.0);
        t1 = std::clamp((y_low + (r + 1) * height + 2 - ay) / (by - ay), 0.0, 1.0);
      }
      const auto [low, high] = std::minmax({ax + t0 * (bx - ax), ax + t1 * (bx - ax)});
      out.push_back({r, low - 2, high + 2, i});
    }
  }
  std::sort(out.begin(), out.end());
  return out;
}

bool clash(const Segment& s, const Segment& o) {
  if (s.ring == o.ring && s.b == o.a) return on_segment(s.a, s.b, o.b) || on_segment(o.a, o.b, s.a);
  if (s.ring == o.ring && o.b == s.a) return on_segment(s.a, s.b, o.a) || on_segment(o.a, o.b, s.b);
  return segments_meet(s.a, s.b, o.a, o.b);
}

// Calls f(segment, segment) for every two that touch, until it answers false.
template <class F>
void for_each_clash(const std::vector<Segment>& segments, const F& f) {
  const auto extents = extents_of(segments);
  for (std::size_t i = 0; i < extents.size(); ++i)
    for (std::size_t j = i + 1;
         j < extents.size() && extents[j].row == extents[i].row && extents[j].low <= extents[i].high; ++j)
      if (const Segment& s = segments[extents[i].segment], &o = segments[extents[j].segment]; clash(s, o) && !f(s, o))
        return;
}

}  // namespace

std::optional<LatticePoint> find_border_crossing(const std::vector<Ring>& rings) {
  std::optional<LatticePoint> found;
  for_each_clash(segments_of(rings), [&](const Segment& s, const Segment&) {
    found = s.a;
    return false;
  });
  return found;
}

std::vector<BorderSide> border_crossings(const std::vector<Ring>& rings) {
  std::vector<BorderSide> out;
  for_each_clash(segments_of(rings), [&](const Segment& s, const Segment& o) {
    out.push_back({s.ring, s.index}), out.push_back({o.ring, o.index});
    return true;
  });
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

}  // namespace pontata
