// Going from triangle to triangle over a chart's surface, cuts included.
#pragma once

#include "engine/chart/chart.h"

namespace pontata {

// A side of a triangle: 3 t + k, from corner k to corner k + 1; also names corner k itself, where it starts.
using SideId = std::uint32_t;
inline constexpr SideId kNoSide = 0xffffffffu;

inline std::uint32_t triangle_of(SideId h) { return h / 3; }
inline SideId next_side(SideId h) { return h % 3 == 2 ? h - 2 : h + 1; }
inline SideId previous_side(SideId h) { return h % 3 == 0 ? h + 2 : h - 1; }

class Turning {
 public:
  explicit Turning(const Chart& chart) : chart_(chart) {}

  std::uint32_t point(SideId h) const { return chart_.mesh().triangles[h / 3][h % 3]; }  // where the side starts
  const Vec3& place(SideId h) const { return chart_.mesh().points[point(h)]; }

  // The same stretch of surface as a side of the triangle beyond it, the other way round; kNoSide where the wall ends.
  SideId twin(SideId h) const {
    const auto other = chart_.across(h / 3, static_cast<int>(h % 3));
    if (other == Chart::kNoTriangle) return twin_over_cut(h);
    const auto end = point(next_side(h));
    for (SideId j = 3 * other; j < 3 * other + 3; ++j)
      if (point(j) == end && point(next_side(j)) == point(h)) return j;
    return kNoSide;
  }
  bool is_cut(SideId h) const { return chart_.across(h / 3, static_cast<int>(h % 3)) == Chart::kNoTriangle; }

  // The corner at the same place in the next triangle round it, counter-clockwise or clockwise; kNoSide at the wall's
  // end. `crossed` is the side of the corner's own triangle that lies between.
  static SideId crossed_left(SideId corner) { return previous_side(corner); }
  static SideId crossed_right(SideId corner) { return corner; }
  SideId left_of(SideId corner) const { return twin(crossed_left(corner)); }
  SideId right_of(SideId corner) const {
    const SideId other = twin(crossed_right(corner));
    return other == kNoSide ? kNoSide : next_side(other);
  }

 private:
  SideId twin_over_cut(SideId h) const {
    const auto edge = chart_.border_edge_from(point(h));
    const auto other = chart_.across_cut(edge);
    if (other == Chart::kNoTriangle) return kNoSide;
    const auto& there = chart_.border_edges()[other];
    return 3 * there.triangle + static_cast<SideId>(there.side);
  }

  const Chart& chart_;
};

}  // namespace pontata
