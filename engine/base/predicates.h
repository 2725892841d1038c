// Exact predicates over lattice points, in 128-bit integers. Coordinates below 2^40 give differences
// below 2^41 and products below 2^83, so nothing can overflow.
#pragma once

#include <span>

#include "engine/base/lattice.h"

namespace pontata {

__extension__ using Int128 = __int128;

// Twice the signed area of triangle a b c: positive when it turns counter-clockwise. Exact.
inline Int128 orient(LatticePoint a, LatticePoint b, LatticePoint c) {
  return static_cast<Int128>(b.x - a.x) * (c.y - a.y) - static_cast<Int128>(b.y - a.y) * (c.x - a.x);
}
inline int sign(Int128 v) { return (v > 0) - (v < 0); }
inline int side(LatticePoint a, LatticePoint b, LatticePoint c) { return sign(orient(a, b, c)); }

// p on the closed segment ab.
bool on_segment(LatticePoint a, LatticePoint b, LatticePoint p);

// Closed segments share at least one point.
bool segments_meet(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d);

// The segments cross in a single point inside both.
bool segments_cross(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d);

// Twice the signed area of a closed ring. Exact.
Int128 twice_area(std::span<const LatticePoint> ring);

// +1 inside, 0 on the ring, -1 outside; even-odd rule. O(n).
int point_in_ring(std::span<const LatticePoint> ring, LatticePoint p);

// Compares directions a->b and a->c by their angle from the positive x axis, counter-clockwise in [0, 2 pi):
// negative when b comes first, 0 when they point the same way. Precondition: both differ from a.
int compare_angle(LatticePoint a, LatticePoint b, LatticePoint c);

// First pair of edges of the closed ring that touch other than as neighbours at their common point, as the
// two edge indices; {-1,-1} when the ring is simple. O(n log n) expected, by a uniform grid.
struct RingCrossing {
  int first = -1;
  int second = -1;
};
RingCrossing find_self_crossing(std::span<const LatticePoint> ring);

}  // namespace pontata
